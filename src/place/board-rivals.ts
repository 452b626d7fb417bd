// place: outline and view → the ways in which a board can be laid down wrongly so that its outline nearly fits all the
// same.
import type { PlacedView } from "../board/place-view.js";
import { composeHomographies, invertHomography, type Matrix3 } from "../board/plane-transform.js";
import { boundsOf, type Polygon } from "../board/polygon.js";

/** Another way to lay the board. */
export interface Rival {
  readonly way: "half" | "quarter" | "over";
  /** Earlier frame px → earlier frame px, where the point would lie if the board lay that way. */
  readonly move: Matrix3;
}

/** Boards whose sides differ by less than this share fit when turned by a quarter. */
const NEARLY_SQUARE = 0.15;

/** List the ways: turned half round, turned over about either axis, and turned by a quarter where the board is about as
 *  wide as high.
 */
export function boardRivals({ matrix }: Pick<PlacedView, "matrix">, outline: Polygon): Rival[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const x = minX + maxX;
  const y = minY + maxY;
  const [cx, cy] = [x / 2, y / 2];
  const onBoard: [Rival["way"], Matrix3][] = [
    ["half", [-1, 0, x, 0, -1, y, 0, 0, 1]],
    ["over", [-1, 0, x, 0, 1, 0, 0, 0, 1]],
    ["over", [1, 0, 0, 0, -1, y, 0, 0, 1]],
  ];
  const [width, height] = [maxX - minX, maxY - minY];
  if (Math.abs(width - height) < NEARLY_SQUARE * Math.max(width, height)) {
    onBoard.push(
      ["quarter", [0, -1, cx + cy, 1, 0, cy - cx, 0, 0, 1]],
      ["quarter", [0, 1, cx - cy, -1, 0, cy + cx, 0, 0, 1]],
      ["over", [0, 1, cx - cy, 1, 0, cy - cx, 0, 0, 1]],
      ["over", [0, -1, cx + cy, -1, 0, cy + cx, 0, 0, 1]],
    );
  }
  const back = invertHomography(matrix);
  return onBoard.map(([way, move]) => ({
    way,
    move: composeHomographies(matrix, composeHomographies(move, back)),
  }));
}
