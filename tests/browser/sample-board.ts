// The sample's board, as far as the tests of the page draw it: outline, four parts, and where its corners are seen.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import type { BoardMap, View } from "../../src/board/board-schema.js";
import { placeView } from "../../src/board/place-view.js";
import { boardPoint } from "../../src/core/units.js";
import { PROJECT } from "../structure/project.js";

const read = (path: string): unknown =>
  JSON.parse(readFileSync(join(PROJECT, "sample-frames", path), "utf8"));
/** Its map, and how the first attempt sees it. */
export const SAMPLE_MAP = read("board.json") as BoardMap;
export const SAMPLE_VIEW = read("attempt-1/view-top.json") as View;
const placed = placeView(SAMPLE_VIEW);

/** Place of a file of the samples. */
export const samplePath = (path: string): string => join(PROJECT, "sample-frames", path);

/** The rectangle round it: what the editor makes of four corners. */
export const SIZE_MM = [58, 34] as const;
const CORNERS_MM = [
  [0, 0],
  [58, 0],
  [58, 34],
  [0, 34],
] as const;
/** Where these lie in the first baseline, px. The lower left one is cut away; its place follows from the others. */
export const CORNERS_PX = CORNERS_MM.map(([x, y]) => {
  const [u, v] = placed.toFrame(boardPoint(x, y));
  return [u, v] as const;
});

/** Four parts: the true source, one beside it, the largest, and the shield that mirrors the room. Half millimetres, as
 *  the editor's grid has them. */
export const PARTS = ["C6", "U6", "U1", "SH1"].map((ref) => {
  const part = SAMPLE_MAP.regions.find((region) => region.ref === ref);
  if (part === undefined) throw new Error(`the sample has no ${ref}`);
  const half = (value: number): number => Math.round(value * 2) / 2;
  const xs = part.polygon.map(([x]) => x);
  const ys = part.polygon.map(([, y]) => y);
  return {
    ref,
    finish: part.finish,
    nets: part.nets ?? [],
    from: [half(Math.min(...xs)), half(Math.min(...ys))] as const,
    to: [half(Math.max(...xs)), half(Math.max(...ys))] as const,
  };
});
