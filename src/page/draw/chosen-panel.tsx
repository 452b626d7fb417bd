// page: what is chosen → the forms and buttons for it.
import { useState } from "preact/hooks";
import { boundsOf } from "../../board/polygon.js";
import { CornerList } from "./corner-list.js";
import { change, choose, chosenRegions, type DrawSession } from "./draw-session.js";
import { arrayChosen, copyChosen, removeChosen, turn } from "./edit-actions.js";
import { focusAfter } from "./focus-after.js";
import { MOST_COPIES } from "./model/change-regions.js";
import { cornersOf, readRectangle } from "./model/rectangle.js";
import { NumberField } from "./number-field.js";
import { RectangleFields } from "./rectangle-fields.js";
import { RegionForm } from "./region-form.js";
import { TextField } from "./text-field.js";

/** Edit what is chosen; the board itself if nothing is. */
export function ChosenPanel({ session }: { readonly session: DrawSession }) {
  const { shape, chosen, drawing, isOutlineChosen } = session;
  const [only] = chosenRegions(session);
  if (isOutlineChosen.value) {
    const rectangle = readRectangle(drawing.value.outline);
    return (
      <section class="draw-panel" aria-label="Outline">
        <h3>Outline</h3>
        <div id="draw-form" class="draw-form">
          {rectangle !== null && (
            <RectangleFields
              rectangle={rectangle}
              step={session.gridMm.value}
              onSet={(next) =>
                change(
                  session,
                  { ...drawing.value, outline: cornersOf(next) },
                  "Change the outline",
                  "outline size",
                  null,
                )
              }
            />
          )}
        </div>
        <CornerList session={session} shape="outline" />
        <ChosenButtons session={session} />
      </section>
    );
  }
  if (only === undefined) return <BoardForm session={session} />;
  return (
    <section class="draw-panel" aria-label="What is chosen">
      <h3>{chosen.value.size === 1 ? `Region ${only.ref}` : `${chosen.value.size} regions`}</h3>
      {chosen.value.size === 1 && <RegionForm key={only.id} session={session} region={only} />}
      {shape.value !== null && <CornerList session={session} shape={shape.value} />}
      <ChosenButtons session={session} />
      <ArrayForm key={[...chosen.value].join()} session={session} />
    </section>
  );
}

function ChosenButtons({ session }: { readonly session: DrawSession }) {
  const isRegion = session.chosen.value.size > 0;
  return (
    <div class="draw-row">
      {isRegion && (
        <button type="button" onClick={() => copyChosen(session)}>
          Copy
        </button>
      )}
      <button type="button" onClick={() => turn(session, 90)}>
        Turn by 90°
      </button>
      <button
        type="button"
        onClick={(event) => {
          focusAfter(event.currentTarget, "board");
          removeChosen(session);
        }}
      >
        Remove
      </button>
      <button
        type="button"
        onClick={(event) => {
          focusAfter(event.currentTarget, "board");
          choose(session, []);
        }}
      >
        Done
      </button>
    </div>
  );
}

/** Set copies of what is chosen out in columns and rows. */
function ArrayForm({ session }: { readonly session: DrawSession }) {
  const bounds = boundsOf(chosenRegions(session).flatMap(({ polygon }) => polygon));
  // A part's own width beside it, unless told otherwise.
  const [words, setWords] = useState({
    columns: 2,
    rows: 1,
    pitchXMm: Math.ceil((bounds.maxX - bounds.minX) * 2 * 2) / 2,
    pitchYMm: Math.ceil((bounds.maxY - bounds.minY) * 2 * 2) / 2,
  });
  const count = words.columns * words.rows * session.chosen.value.size;
  return (
    <details class="draw-array">
      <summary>Set copies out in columns and rows</summary>
      <div class="draw-numbers">
        <NumberField
          label="Columns"
          value={words.columns}
          step={1}
          least={1}
          onSet={(value) => setWords({ ...words, columns: Math.round(value) })}
        />
        <NumberField
          label="Rows"
          value={words.rows}
          step={1}
          least={1}
          onSet={(value) => setWords({ ...words, rows: Math.round(value) })}
        />
        <NumberField
          label="From column to column"
          unit="mm"
          step={0.5}
          value={words.pitchXMm}
          onSet={(pitchXMm) => setWords({ ...words, pitchXMm })}
        />
        <NumberField
          label="From row to row"
          unit="mm"
          step={0.5}
          value={words.pitchYMm}
          onSet={(pitchYMm) => setWords({ ...words, pitchYMm })}
        />
      </div>
      <button
        type="button"
        disabled={count > MOST_COPIES || count < 2}
        onClick={() => arrayChosen(session, words)}
      >
        Set out {words.columns} × {words.rows}
      </button>
    </details>
  );
}

/** Name and thickness of the board. */
function BoardForm({ session }: { readonly session: DrawSession }) {
  const { drawing } = session;
  const { name, thicknessMm } = drawing.value;
  return (
    <section class="draw-panel" aria-label="Board">
      <h3>Board</h3>
      <div id="draw-form" class="draw-form">
        <TextField
          label="Name"
          value={name}
          onSet={(value) =>
            change(session, { ...drawing.value, name: value }, "Change the name", "name", null)
          }
        />
        <NumberField
          label="Thickness"
          unit="mm"
          step={0.1}
          least={0.05}
          value={thicknessMm}
          onClear={() => change(session, { ...drawing.value, thicknessMm: null }, "Leave the thickness open")}
          onSet={(value) =>
            change(
              session,
              { ...drawing.value, thicknessMm: value },
              "Change the thickness",
              "thickness",
              null,
            )
          }
        />
      </div>
    </section>
  );
}
