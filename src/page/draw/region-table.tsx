// page: the regions of a drawing → a table that is walked, moved and opened by keys.
import { useEffect, useRef, useState } from "preact/hooks";
import { arrowStep } from "./board-keys.js";
import { choose, chooseOutline, type DrawSession } from "./draw-session.js";
import { nudge, removeChosen, resize } from "./edit-actions.js";
import type { DrawnRegion } from "./model/drawing.js";
import { sayRegions } from "./model/say-shape.js";
import { RegionRow } from "./region-row.js";
import { say } from "./say.js";

/** List the outline and the regions. Up and Down walk; Space takes hold of a row, arrow keys then move it and with Alt
 *  resize it; Enter opens its form; Delete removes it. */
export function RegionTable({ session }: { readonly session: DrawSession }) {
  const { history, chosen, isOutlineChosen, problems, side } = session;
  // What a drag would make comes into the table once it is made.
  const drawing = history.value.now.state;
  const [isHeld, setHeld] = useState(false);
  const body = useRef<HTMLTableSectionElement>(null);
  const { outline, regions } = drawing;
  const wrong = new Set(problems.value.filter(({ isError }) => isError).map(({ shape }) => shape));
  const rows: readonly (DrawnRegion | null)[] = [null, ...regions];
  const [only] = chosen.value;
  const at = isOutlineChosen.value
    ? 0
    : Math.max(
        0,
        rows.findIndex((row) => row !== null && row.id === only),
      );
  // What is chosen elsewhere comes into sight here.
  useEffect(() => {
    body.current?.rows[at]?.scrollIntoView({ block: "nearest" });
  }, [at]);

  const chooseRow = (index: number): void => {
    const row = rows[index];
    if (row === undefined) return;
    if (row === null) chooseOutline(session);
    else {
      if (row.side !== side.value) side.value = row.side;
      choose(session, [row.id]);
    }
    body.current?.rows[index]?.focus();
  };
  const hold = (): void => {
    setHeld(!isHeld);
    const held = "Held: arrow keys move it, with Alt they resize it, Space lets go";
    say(isHeld ? `Let go. ${sayRegions(drawing, chosen.value)}` : held);
  };
  const keyDown = (event: KeyboardEvent, index: number): void => {
    const by = arrowStep(session, event);
    if (event.key === " ") hold();
    else if (event.key === "Escape" && isHeld) hold();
    else if (by !== null && isHeld) {
      if (event.altKey) resize(session, side.value === "top" ? by : [-by[0], by[1]]);
      else nudge(session, by);
    } else if (event.key === "ArrowDown") chooseRow(Math.min(rows.length - 1, index + 1));
    else if (event.key === "ArrowUp") chooseRow(Math.max(0, index - 1));
    else if (event.key === "Home") chooseRow(0);
    else if (event.key === "End") chooseRow(rows.length - 1);
    else if (event.key === "Enter") document.getElementById("draw-form")?.querySelector("input")?.focus();
    else if (event.key === "Delete") {
      removeChosen(session);
      chooseRow(Math.max(0, index - 1));
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  return (
    <div class="draw-scroll">
      <table
        class="draw-table"
        // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: its rows are chosen and moved by keys
        role="grid"
        aria-label="Outline and regions"
        aria-describedby="draw-table-keys"
      >
        <thead>
          <tr>
            <th scope="col">Ref</th>
            <th scope="col">Label</th>
            <th scope="col">Side</th>
            <th scope="col">Middle, mm</th>
            <th scope="col">Size, mm</th>
          </tr>
        </thead>
        {/* One listener for all rows, as there may be thousands. */}
        <tbody
          ref={body}
          onClick={(event) => chooseRow(rowOf(event))}
          onFocusIn={(event) => {
            const index = rowOf(event);
            const row = rows[index];
            if (row === undefined) return;
            if (row === null ? !isOutlineChosen.value : !chosen.value.has(row.id)) chooseRow(index);
          }}
          onFocusOut={() => setHeld(false)}
          onKeyDown={(event) => keyDown(event, rowOf(event))}
        >
          {rows.map((row, index) => {
            const isChosen = row === null ? isOutlineChosen.value : chosen.value.has(row.id);
            return (
              <RegionRow
                key={row === null ? "outline" : row.id}
                region={row}
                polygon={row === null ? outline : row.polygon}
                isChosen={isChosen}
                isHeld={isChosen && isHeld}
                isWrong={wrong.has(row === null ? "outline" : row.id)}
                isStop={index === at}
              />
            );
          })}
        </tbody>
      </table>
      <p id="draw-table-keys" class="draw-unseen">
        Up and Down walk the rows. Space takes hold of a row: arrow keys then move it, with Shift finely, with
        Alt they resize it. Enter edits it, Delete removes it.
      </p>
    </div>
  );
}

/** Number of the row that an event comes from. */
function rowOf(event: Event): number {
  const row = (event.target as Element).closest("tr");
  return row === null ? -1 : row.sectionRowIndex;
}
