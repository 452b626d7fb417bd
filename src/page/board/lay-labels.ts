// page: places on a board → labels at its left and right edge that cover nothing, with lines to their places.
import type { Point } from "../../board/polygon.js";
import { spreadLabels } from "../../report/spread-labels.js";
import type { Fit } from "./make-stage.js";

/** Where a label stands. */
export interface LaidLabel {
  /** Place of its item in the input. */
  readonly index: number;
  readonly edge: "left" | "right";
  /** Middle of the label's inner edge, where the line begins. */
  readonly x: number;
  readonly y: number;
  /** From the label to the edge of the board, then to the place: points of the line. */
  readonly line: readonly Point[];
}

/** How labels are laid. */
export interface LabelOptions {
  readonly heightPx: number;
  /** From the board's edge to the labels. */
  readonly gapPx: number;
  /** Ends for the labels' middles. */
  readonly low: number;
  readonly high: number;
}

/** Lay labels: each goes to the nearer edge, unless that is full; along an edge they stay as near to their places as
 *  can be.
 *  @param anchors places on the screen, the most important first: where both edges are full the last ones get no label.
 *  @param fit where the board lies on the screen.
 */
export function layLabels(anchors: readonly Point[], fit: Fit, options: LabelOptions): LaidLabel[] {
  const { heightPx, gapPx, low, high } = options;
  const most = Math.max(1, Math.floor((high - low) / heightPx) + 1);
  const middle = fit.x + fit.width / 2;
  const edges = { left: [] as number[], right: [] as number[] };
  // Those nearest to an edge choose first.
  const order = anchors
    .map((_, i) => i)
    .slice(0, 2 * most)
    .sort((i, j) => edgeDistance(j) - edgeDistance(i) || i - j);
  for (const i of order) {
    const wanted = anchors[i]![0] < middle ? "left" : "right";
    const other = wanted === "left" ? "right" : "left";
    edges[edges[wanted].length >= most && edges[other].length < most ? other : wanted].push(i);
  }
  return [...lay("left"), ...lay("right")].sort((a, b) => a.index - b.index);

  function edgeDistance(i: number): number {
    return Math.abs(anchors[i]![0] - middle);
  }

  function lay(edge: "left" | "right"): LaidLabel[] {
    const members = [...edges[edge]].sort((i, j) => anchors[i]![1] - anchors[j]![1] || i - j);
    const heights = spreadLabels(
      members.map((i) => anchors[i]![1]),
      heightPx,
      low,
      high,
    );
    const border = edge === "left" ? fit.x : fit.x + fit.width;
    const x = edge === "left" ? border - gapPx : border + gapPx;
    return members.map((index, k) => {
      const y = heights[k]!;
      return { index, edge, x, y, line: [[x, y], [border, y], anchors[index]!] };
    });
  }
}
