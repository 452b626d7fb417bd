// page: an earlier attempt of the job → its fiducials carried over to the new baseline, offered.
import { useState } from "preact/hooks";
import type { Placed } from "../../api/attempts-schema.js";
import { callApi } from "../../api/call-api.js";
import { announceError } from "../state/announce.js";
import { showNumber } from "../state/settings.js";
import type { DrawSession } from "./draw-session.js";
import { takeView } from "./fiducial-actions.js";
import { say } from "./say.js";

/** Offer to place the baseline by an earlier attempt. */
export function EarlierPlacing({ session }: { readonly session: DrawSession }) {
  const { props, picture, drawing } = session;
  const [state, setState] = useState<"idle" | "asking">("idle");
  const [found, setFound] = useState<Placed | null>(null);
  const frame = props.frame?.sha256 ?? null;
  if (!props.canPlace || frame === null || picture.value?.key !== frame) return null;

  const ask = async (): Promise<void> => {
    setState("asking");
    say("Comparing the baseline with earlier ones");
    try {
      const name = drawing.value.name.trim();
      const body = { frame, ...(name !== "" && props.board?.name === name ? { board: name } : {}) };
      const placed = await (props.call ?? callApi)("place", { job: props.job, body });
      if (placed.trusted && placed.view !== null) takeView(session, placed.view, sayPlaced(placed));
      else say(`Not placed: ${placed.reason ?? "nothing agrees"}`, true);
      setFound(placed);
    } catch (error) {
      announceError(error);
    }
    setState("idle");
  };
  return (
    <div class="draw-row">
      <button type="button" disabled={state === "asking"} onClick={() => void ask()}>
        {state === "asking" ? "Comparing …" : "Place by an earlier attempt"}
      </button>
      {found !== null && <span>{showNumber(sayPlaced(found))}</span>}
      {found !== null && !found.trusted && found.view !== null && (
        <button type="button" onClick={() => takeView(session, found.view!, "Take a doubtful placing")}>
          Take it all the same
        </button>
      )}
    </div>
  );
}

function sayPlaced({ trusted, reason, by, sigmaMm }: Placed): string {
  if (!trusted) return `Not to be trusted: ${reason ?? "nothing agrees"}.`;
  const good = sigmaMm === null ? "" : `, good to ${sigmaMm.toPrecision(2)} mm`;
  return `Placed by attempt ${by?.attempt ?? "?"}${good}`;
}
