// report: a small board and what is spoken of on it → thick outlines and names that keep clear of each other.
import { boundsOf, centroid } from "../board/polygon.js";
import { estimateWidth, fitText } from "./fit-text.js";
import { PLOT_COLOURS, type PlotItem, type PlotPoint } from "./plot.js";
import type { BoardFrame, SmallBoard } from "./small-board.js";

const NAME_SIZE = 7.5;

/** Thick outlines and names of what is spoken of; names keep clear of each other and stay inside the picture. */
export function boardNames(
  { board, side, suspects, changed, warm }: SmallBoard,
  place: (point: readonly [number, number]) => PlotPoint,
  frame: BoardFrame,
): PlotItem[] {
  const taken: Box[] = [];
  const items: PlotItem[] = [];
  for (const ref of new Set([...suspects, ...changed, ...warm])) {
    const region = board.regions.find((each) => each.ref === ref);
    if (region === undefined) continue;
    const suspected = suspects.includes(ref);
    // Heat comes through the board: a suspect on the other side belongs to the picture that shows its heat.
    const behind = region.side !== side;
    if (behind && !suspected) continue;
    const ring = region.polygon.map(place);
    const bold = suspected || changed.includes(ref);
    if (bold) {
      items.push({
        kind: "path",
        rings: [ring],
        closed: true,
        stroke: suspected ? PLOT_COLOURS.mark : PLOT_COLOURS.ink,
        width: behind ? 0.6 : suspects[0] === ref ? 1.6 : 1,
        ...(suspected ? {} : { dash: [1, 1.4] }),
      });
    }
    const text = fitText(behind ? `${ref} (behind)` : ref, frame.width / 2, NAME_SIZE, bold);
    const half = (estimateWidth(text, bold) * NAME_SIZE) / 2;
    const { minY, maxY } = boundsOf(ring);
    const [middle] = centroid(ring);
    const x = Math.min(frame.width - half - 1, Math.max(half + 1, middle));
    const wanted = [minY - 3, maxY + NAME_SIZE + 1, minY - 3 - NAME_SIZE * 1.2, maxY + NAME_SIZE * 2.3];
    const free = wanted.filter((y) => {
      const box = { left: x - half, right: x + half, top: y - NAME_SIZE, bottom: y + 1 };
      const inside = box.top >= 0 && box.bottom <= frame.height;
      return inside && !taken.some((other) => overlap(box, other));
    });
    const y = free[0] ?? Math.max(NAME_SIZE, minY - 3);
    taken.push({ left: x - half, right: x + half, top: y - NAME_SIZE, bottom: y + 1 });
    items.push({
      kind: "text",
      at: [x, y],
      text,
      size: NAME_SIZE,
      anchor: "middle",
      bold,
      colour: suspected ? PLOT_COLOURS.mark : PLOT_COLOURS.ink,
      halo: true,
    });
  }
  return items;
}

interface Box {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function overlap(a: Box, b: Box): boolean {
  return a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom;
}
