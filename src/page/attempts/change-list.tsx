// page: what became of the heat from one attempt to the next → words between the two boards.
import type { Change } from "../../compare/comparison-schema.js";
import { showNumber } from "../state/settings.js";
import type { CardSize } from "./card.js";
import type { Join } from "./join-changes.js";

/** Shapes in a square of 12; colour tells nothing that these do not. */
const SHAPES: Readonly<Record<Change, string>> = {
  persisted: "M1 6h10",
  gone: "M2 2l8 8M2 10l8-8",
  new: "M6 1v10M1 6h10",
  hotter: "M6 11V2M2 6l4-4 4 4",
  cooler: "M6 1v9M2 6l4 4 4-4",
  unsure: "M1 6h2M5 6h2M9 6h2",
};

/** What was done, and what changed, between two attempts. */
export function ChangeList({ join, card }: { readonly join: Join; readonly card: CardSize }) {
  // Words stand below the boards, where the lines between them don't cross.
  const below = { paddingTop: `${card.height}px` };
  return (
    <div class="change-list" style={below}>
      {join.done.length > 0 && (
        <p class="done">
          {join.done.map((text) => (
            <span key={text} class="chip">
              {text}
            </span>
          ))}
        </p>
      )}
      <ul>
        {join.parts.map(({ ref, side, change, words, why }) => (
          <li key={`${side} ${ref}`} class={change} title={showNumber(why)}>
            <svg viewBox="-1 -1 14 14" aria-hidden="true">
              <path d={SHAPES[change]} />
            </svg>
            <strong>{ref}</strong> {words}
          </li>
        ))}
      </ul>
      {join.reason !== null && <p class="small dim">Not compared: {showNumber(join.reason)}.</p>}
    </div>
  );
}
