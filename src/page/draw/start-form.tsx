// page: a picture that is not placed yet → the ways to begin, and the size that each asks for.
import { useState } from "preact/hooks";
import type { DrawSession, StartWay } from "./draw-session.js";
import { NumberField } from "./number-field.js";
import { beginFromCorners, beginFromLength, START_COUNT, takeWay } from "./start-points.js";

const WAYS: Readonly<Record<StartWay, string>> = {
  corners: "The four corners of a rectangular board, and its size",
  length: "Two points, and the length between them",
  "one by one": "Fiducials one by one: on the picture, then on the board",
};

/** Choose how to begin, and say the size. */
export function StartForm({ session }: { readonly session: DrawSession }) {
  const { startWay, startPoints, drawing } = session;
  const [size, setSize] = useState<{ width: number | null; height: number | null; length: number | null }>({
    width: null,
    height: null,
    length: null,
  });
  const way = startWay.value;
  const left = START_COUNT[way] - startPoints.value.length;
  const isOver = drawing.value.outline.length > 0 && way === "corners";
  return (
    <fieldset class="draw-start">
      <legend>Place the picture by</legend>
      {(Object.keys(WAYS) as StartWay[]).map((name) => (
        <label key={name} class="draw-check">
          <input
            type="radio"
            name="draw-way"
            checked={way === name}
            onChange={() => takeWay(session, name)}
          />
          {WAYS[name]}
        </label>
      ))}
      {START_COUNT[way] > 0 && (
        <div class="draw-numbers">
          <p>
            {left > 0
              ? `Pick ${left} more on the picture${way === "corners" ? ", in any order" : ""}.`
              : `All picked; now type ${way === "corners" ? "the board's size" : "the length between them"}.`}
          </p>
          {way === "corners" ? (
            <>
              <NumberField
                label="Left to right"
                unit="mm"
                least={1}
                value={size.width}
                onSet={(width) => setSize({ ...size, width })}
              />
              <NumberField
                label="Top to bottom"
                unit="mm"
                least={1}
                value={size.height}
                onSet={(height) => setSize({ ...size, height })}
              />
              <button
                type="button"
                class="primary"
                disabled={left > 0}
                onClick={() => beginFromCorners(session, size.width, size.height)}
              >
                Make outline and fiducials
              </button>
              {isOver && <p>The outline that is drawn is replaced.</p>}
            </>
          ) : (
            <>
              <NumberField
                label="Length between them"
                unit="mm"
                least={0.1}
                value={size.length}
                onSet={(length) => setSize({ ...size, length })}
              />
              <button
                type="button"
                class="primary"
                disabled={left > 0}
                onClick={() => beginFromLength(session, size.length)}
              >
                Make two fiducials
              </button>
            </>
          )}
        </div>
      )}
    </fieldset>
  );
}
