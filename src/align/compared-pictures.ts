// align: both frames as cells, and what the camera sees of the board → what the movement is read from.
import { warpRaster } from "../numeric/warp.js";
import { bandPass } from "./band-pass.js";
import type { CellPicture } from "./cell-picture.js";
import { type Edges, findEdges } from "./edge-samples.js";
import type { Ground } from "./ground.js";
import { affineOf, isStill, type RigidTransform } from "./rigid-transform.js";
import { evenWarmth, ownWarmth } from "./warm-shapes.js";

/** What the movement is read from. All pictures are band-passed and of one size. */
export interface ComparedPictures {
  readonly template: Float32Array;
  readonly moving: Float32Array;
  readonly edges: Edges;
  /** The template first, then what power may add to it. */
  readonly shapes: readonly Float32Array[];
  /** Shape of a board that warmed evenly; null without a board. */
  readonly even: Float32Array | null;
}

/** What detail is compared, and where. */
export interface CompareOptions {
  /** Gaussian widths that bound the detail, cells. */
  readonly fineSigma: number;
  readonly coarseSigma: number;
  /** What is board and what is bench, per cell; null if unknown. */
  readonly ground: Ground | null;
}

/** Lay out the pictures that are compared.
 *  @param before, after cells of both frames; not modified.
 *  @param emissivity what the camera sees of the board, 0…1 per cell of the baseline; null if unknown.
 */
export function comparedPictures(
  before: CellPicture,
  after: Float32Array,
  emissivity: Float32Array | null,
  { fineSigma, coarseSigma, ground }: CompareOptions,
): ComparedPictures {
  const { width, height } = before;
  const template = bandPass(before.data, width, height, fineSigma, coarseSigma);
  const moving = bandPass(after, width, height, fineSigma, coarseSigma);
  const edges = findEdges(template, width, height, ground);
  const even = emissivity === null ? null : evenWarmth(before, emissivity, fineSigma, coarseSigma);
  const shapes =
    even === null
      ? [template]
      : [template, even, ownWarmth(even, before, after, emissivity!, edges.flat, coarseSigma)];
  return { template, moving, edges, shapes, even };
}

/** The powered picture laid on the baseline, and both with readings where both have them: what filters make of holes
 *  and of the border is then the same in both, and no movement.
 */
export function broughtBack(
  before: CellPicture,
  after: Float32Array,
  transform: RigidTransform,
): { before: CellPicture; after: Float32Array } {
  const { width, height } = before;
  const moved = isStill(transform)
    ? after.slice()
    : warpRaster(after, width, height, affineOf(transform, before), { order: "spline" });
  const data = before.data.slice();
  for (let i = 0; i < data.length; i++) {
    if (!((data[i]! + moved[i]!) * 0 === 0)) data[i] = moved[i] = Number.NaN;
  }
  return { before: { width, height, data }, after: moved };
}
