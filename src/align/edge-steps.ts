// align: edge samples and a picture → at any alignment, what the next step towards it is made of.
import { type Kernels, sharedKernels } from "../numeric/kernels.js";
import type { AffineMatrix } from "../numeric/warp.js";
import type { EdgeSamples } from "./edge-samples.js";
import { edgeStepsByKernel } from "./edge-steps-by-kernel.js";
import { fitAmounts } from "./fit-amounts.js";
import { movingSamples, sampleMoving } from "./sample-moving.js";
import { type StepNumbers, type StepSums, stepSums } from "./step-sums.js";
import { Surroundings } from "./surroundings.js";

/** Side of the square blocks over which the score's scatter is taken, px: wider than the band-pass correlates. */
const BLOCK_PX = 8;

/** Edge samples compared with a picture, at one alignment after the other. */
export interface EdgeSteps {
  /** Three scores per block, of the last comparison. */
  readonly scores: Float64Array;
  /** Compare at an alignment.
   *  @param scaleK difference at which a sample's weight in the amounts of the shapes falls to one half.
   *  @param distrust whether what is unexplained around a sample lowers its weight.
   */
  sumsAt(matrix: AffineMatrix, numbers: StepNumbers, scaleK: number, distrust: boolean): StepSums;
}

/** Square blocks of pixels. */
export interface Blocks {
  readonly sidePx: number;
  readonly across: number;
  readonly count: number;
}

/** Get ready to compare.
 *  @param samples edges of the baseline, with the shapes that power may add to it, each in any amount.
 *  @param moving band-passed powered frame, width×height; not modified.
 */
export function edgeSteps(
  samples: EdgeSamples,
  moving: Float32Array,
  width: number,
  height: number,
): EdgeSteps {
  const across = Math.ceil(width / BLOCK_PX);
  const blocks = { sidePx: BLOCK_PX, across, count: across * Math.ceil(height / BLOCK_PX) };
  const kernels: Kernels | null = sharedKernels();
  return kernels === null
    ? plainSteps(samples, moving, width, height, blocks)
    : edgeStepsByKernel(kernels, samples, moving, width, height, blocks);
}

/** Where the three scores of each sample's block stand. */
function placesIn({ sidePx, across }: Blocks, { x, y, count }: EdgeSamples): Int32Array {
  const places = new Int32Array(count);
  for (let k = 0; k < count; k++) {
    places[k] = 3 * (Math.floor(y[k]! / sidePx) * across + Math.floor(x[k]! / sidePx));
  }
  return places;
}

function plainSteps(
  samples: EdgeSamples,
  moving: Float32Array,
  width: number,
  height: number,
  blocks: Blocks,
): EdgeSteps {
  const { x, y, gate, count, shapes } = samples;
  const scores = new Float64Array(3 * blocks.count);
  const values = shapes.map(({ value }) => value);
  const residual = new Float32Array(count);
  const [seen, template] = [movingSamples(count), movingSamples(count)];
  const drawn = { slopeX: new Float32Array(count), slopeY: new Float32Array(count) };
  const surroundings = new Surroundings(samples, width, height);
  const places = placesIn(blocks, samples);
  let amounts: number[] | undefined;
  return {
    scores,
    sumsAt(matrix, numbers, scaleK, distrust) {
      sampleMoving(moving, width, height, samples, matrix, seen);
      amounts = fitAmounts(values, seen.value, scaleK, amounts);
      for (const part of ["value", "slopeX", "slopeY"] as const) {
        addUp(
          shapes.map((shape) => shape[part]),
          amounts,
          template[part],
        );
      }
      // The first shape is the baseline's, the others are drawn.
      const others = amounts.map((amount, k) => (k === 0 ? 0 : amount));
      for (const part of ["slopeX", "slopeY"] as const) {
        addUp(
          shapes.map((shape) => shape[part]),
          others,
          drawn[part],
        );
      }
      for (let k = 0; k < count; k++) residual[k] = seen.value[k]! - template.value[k]!;
      const around = distrust ? surroundings.levels(residual) : null;
      scores.fill(0);
      const { value: expected, slopeX, slopeY } = template;
      const { slopeX: otherX, slopeY: otherY } = seen;
      return stepSums(
        {
          x,
          y,
          gate,
          residual,
          expected,
          slopeX,
          slopeY,
          drawnX: drawn.slopeX,
          drawnY: drawn.slopeY,
          seen: seen.value,
          otherX,
          otherY,
          around,
          blocks: places,
        },
        numbers,
        scores,
      );
    },
  };
}

/** The shapes in their amounts. */
function addUp(lists: readonly Float32Array[], amounts: readonly number[], out: Float32Array): void {
  const first = lists[0]!;
  const second = lists[1] ?? first;
  const third = lists[2] ?? first;
  const a = amounts[0]!;
  const b = amounts[1] ?? 0;
  const c = amounts[2] ?? 0;
  for (let k = 0; k < out.length; k++) out[k] = a * first[k]! + b * second[k]! + c * third[k]!;
}
