// page: what was last said → a line at the foot of the page, read out by screen readers.
import { useEffect, useState } from "preact/hooks";
import { said } from "./state/announce.js";
import { route } from "./state/route.js";
import { showNumber } from "./state/settings.js";

/** A result is shown this long, ms; an error stays until it is closed, or somebody goes on to another section. */
const SHOWN_MS = 6000;

/** Show and read out what was last said. */
export function SaidRegion() {
  const { id, text, isBad } = said.value;
  const [closed, setClosed] = useState(0);
  useEffect(() => {
    if (isBad) return undefined;
    const timer = setTimeout(() => setClosed(id), SHOWN_MS);
    return () => clearTimeout(timer);
  }, [id, isBad]);
  const now = route.value;
  const where = now.page === "job" ? `${now.job}/${now.section}` : "";
  // What went wrong elsewhere lies over nothing here.
  useEffect(() => {
    if (said.peek().isBad) setClosed(said.peek().id);
  }, [where]);
  const isShown = text !== "" && closed !== id;
  return (
    <div class={`said${isShown ? " shown" : ""}${isBad ? " bad" : ""}`}>
      <div role="status" aria-live="polite" aria-atomic="true">
        {isShown && !isBad ? showNumber(text) : ""}
      </div>
      <div role="alert">{isShown && isBad ? showNumber(text) : ""}</div>
      {isShown && (
        <button type="button" class="quiet" onClick={() => setClosed(id)}>
          Close
        </button>
      )}
    </div>
  );
}
