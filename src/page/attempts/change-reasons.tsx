// page: what became of the heat from one attempt to the next → each part's reason, for pointer, keys and fingers alike.
import { formatSignificant } from "../../core/format-quantity.js";
import { showNumber } from "../state/settings.js";
import type { Join, JoinedPart } from "./join-changes.js";

/** Why each part is said to be gone, new, or still there. */
export function ChangeReasons({ join: { parts } }: { readonly join: Join }) {
  if (parts.length === 0) return null;
  return (
    <details class="small">
      <summary>Why, part by part</summary>
      <ul>
        {parts.map(({ ref, side, words, why, powerW }) => (
          <li key={`${side} ${ref}`}>
            <strong>{ref}</strong> {words}
            {showNumber(`${wattsText(powerW)}. ${why}`)}
          </li>
        ))}
      </ul>
    </details>
  );
}

function wattsText([before, after]: JoinedPart["powerW"]): string {
  const text = (watts: number): string => `${formatSignificant(watts, 2)} W`;
  if (before !== null && after !== null) return `, ${text(before)} before and ${text(after)} after`;
  if (before !== null) return `, ${text(before)} before`;
  return after === null ? "" : `, ${text(after)} after`;
}
