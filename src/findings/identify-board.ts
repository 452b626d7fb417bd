// findings: board map, views and fit → which board it was, so that two attempts can be known to be of one.
import type { BoardMap } from "../board/board-schema.js";
import type { Polygon } from "../board/polygon.js";
import type { SourceFit } from "../sources/source-fit.js";
import type { BoardIdentity } from "./parts-schema.js";
import { type BoardView, sidesOf } from "./seen-view.js";

/** Tell a board by its outline and its parts. Finishes, nets and labels are left out: they are corrected while a job
 *  goes on. Corners count to a micrometre.
 */
export function identifyBoard(views: readonly BoardView[], fit: SourceFit): BoardIdentity {
  const { board } = views[0]!.placed;
  const sides = sidesOf(views);
  return {
    name: board.name ?? null,
    outline: hashText(cornersText(board.outline)),
    parts: hashText(partsText(board)),
    sides: (["top", "bottom"] as const).filter((side) => sides.has(side)),
    spread: { state: fit.state.kind, lengthMm: fit.state.lengthMm },
  };
}

/** The order of the regions is of no account. */
function partsText({ regions }: BoardMap): string {
  return regions
    .map(({ ref, side, polygon }) => `${side} ${ref} ${cornersText(polygon)}`)
    .sort()
    .join("\n");
}

function cornersText(polygon: Polygon): string {
  return polygon.map(([x, y]) => `${Math.round(x * 1000)},${Math.round(y * 1000)}`).join(" ");
}

/** Hash a text to 64 bits, in hex: enough to tell boards apart, no protection against forgery.
 *  Method: FNV-1a (Fowler, Noll & Vo; offset and prime from memory) on UTF-16 code units.
 */
export function hashText(text: string): string {
  let hash = 0xcbf29ce484222325n;
  for (let i = 0; i < text.length; i++) {
    hash = BigInt.asUintN(64, (hash ^ BigInt(text.charCodeAt(i))) * 0x100000001b3n);
  }
  return hash.toString(16).padStart(16, "0");
}
