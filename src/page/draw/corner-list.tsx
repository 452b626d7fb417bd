// page: the corners of a shape → a list in which each is moved, added and removed by number.
import type { Point } from "../../board/polygon.js";
import type { DrawSession } from "./draw-session.js";
import { addCorner, putCorner, takeCorner } from "./edit-actions.js";
import { focusAfter } from "./focus-after.js";
import { LEAST_CORNERS } from "./model/edit-polygon.js";
import { polygonOf, type ShapeName } from "./model/find-under.js";
import { toGrid } from "./model/snap.js";
import { NumberField } from "./number-field.js";

/** List the corners of a shape. */
export function CornerList({ session, shape }: { readonly session: DrawSession; readonly shape: ShapeName }) {
  const polygon = polygonOf(session.drawing.value, shape);
  const { corner, gridMm } = session;
  if (polygon.length === 0) return null;
  const after = (index: number): Point => {
    const [a, b] = [polygon[index]!, polygon[(index + 1) % polygon.length]!];
    return [toGrid((a[0] + b[0]) / 2, 0), toGrid((a[1] + b[1]) / 2, 0)];
  };
  return (
    <details class="draw-corners">
      <summary>{polygon.length} corners</summary>
      <table class="draw-table" aria-label="Corners">
        <tbody>
          {polygon.map(([x, y], index) => (
            <tr
              key={index}
              class={corner.value === index ? "chosen" : ""}
              onFocusIn={() => (corner.value = index)}
            >
              <th scope="row">{index + 1}</th>
              <td>
                <NumberField
                  isBare
                  label={`Corner ${index + 1}, x in mm`}
                  value={x}
                  step={gridMm.value}
                  onSet={(value) => putCorner(session, shape, index, [value, y], true)}
                />
              </td>
              <td>
                <NumberField
                  isBare
                  label={`Corner ${index + 1}, y in mm`}
                  value={y}
                  step={gridMm.value}
                  onSet={(value) => putCorner(session, shape, index, [x, value], true)}
                />
              </td>
              <td>
                <button
                  type="button"
                  title="Add a corner after this one"
                  aria-label={`Add a corner after ${index + 1}`}
                  onClick={() => addCorner(session, shape, index, after(index))}
                >
                  +
                </button>
                <button
                  type="button"
                  title="Remove this corner"
                  aria-label={`Remove corner ${index + 1}`}
                  disabled={polygon.length <= LEAST_CORNERS}
                  onClick={(event) => {
                    focusAfter(event.currentTarget, "board");
                    takeCorner(session, shape, index);
                  }}
                >
                  ×
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
