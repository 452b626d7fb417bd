// align: edge samples and a picture → at any alignment, what the next step towards it is made of, by the compiled
// kernels.
import { gaussianAt } from "../numeric/gaussian-filter.js";
import type { Address } from "../numeric/kernel-exports.js";
import type { Kernels } from "../numeric/kernels.js";
import type { EdgeSamples } from "./edge-samples.js";
import type { Blocks, EdgeSteps } from "./edge-steps.js";
import { type FitSums, settleAmounts } from "./fit-amounts.js";
import type { StepNumbers, StepSums } from "./step-sums.js";
import { SIGMA_CELLS, surroundingCells } from "./surroundings.js";

/** Lists that the kernel reads side by side, numbers that it takes, and those that it gives back. */
const LISTS = 13;
const NUMBERS = 15;
const SUMS = 18;
/** Where the sum of all scores begins among those. */
const SCORE = 15;
/** Lists of the slopes of what the map alone draws. */
const DRAWN = 11;

/** As `edgeSteps` in plain code, to the last bit. All lists stay in the kernels' memory from one alignment to the next:
 *  they are of no use once the kernels are used for something else.
 */
export function edgeStepsByKernel(
  kernels: Kernels,
  samples: EdgeSamples,
  moving: Float32Array,
  width: number,
  height: number,
  blocks: Blocks,
): EdgeSteps {
  const { count, shapes } = samples;
  const { run } = kernels;
  const from = kernels.put(moving);
  const lists = kernels.take(4 * LISTS * count);
  const list = (k: number): Address => lists + 4 * k * count;
  [samples.x, samples.y, samples.gate].forEach((values, k) => {
    kernels.floats(list(k), count).set(values);
  });
  const [x, y, residual, expected, seen, around] = [list(0), list(1), list(3), list(4), list(7), list(10)];
  // Value and slopes of up to three shapes; of two the third is in no amount.
  const parts = (["value", "slopeX", "slopeY"] as const).map((part) => {
    const places = shapes.map((shape) => kernels.put(shape[part]));
    const nothing = shapes.length === 2 ? kernels.put(new Float32Array(count)) : places[0]!;
    return [places[0]!, places[1] ?? places[0]!, places[2] ?? nothing] as const;
  });
  const { sidePx, across, down } = surroundingCells(width, height);
  const size = across * down;
  const cells = kernels.take(4 * count);
  run.placesIn(x, y, count, sidePx, across, 1, cells);
  const [sizes, counts] = [kernels.take(4 * size), kernels.take(4 * size)];
  const scores = new Float64Array(3 * blocks.count);
  const [places, to] = [kernels.take(4 * count), kernels.put(scores)];
  run.placesIn(x, y, count, blocks.sidePx, blocks.across, 3, places);
  const [shared, out] = [kernels.take(8 * NUMBERS), kernels.take(8 * SUMS)];
  let amounts: number[] | undefined;
  kernels.floats(list(DRAWN), 2 * count).fill(0);

  /** How much of each shape the picture shows. */
  function fitted(scaleK: number): number[] {
    const [first, second, third] = parts[0]!;
    return settleAmounts(shapes.length, scaleK, amounts, ([a, b, c], cap) => {
      run.fitSums(first, second, third, seen, count, a, b, c, cap, out);
      return [...kernels.doubles(out, 9)] as unknown as FitSums;
    });
  }

  function levels(): void {
    kernels.floats(sizes, size).fill(0);
    kernels.floats(counts, size).fill(0);
    run.sizesByCell(residual, cells, count, sizes, counts);
    const sum = gaussianAt(kernels, sizes, across, down, SIGMA_CELLS);
    const number = gaussianAt(kernels, counts, across, down, SIGMA_CELLS);
    run.meansOfCells(sum, number, cells, count, around);
    kernels.giveBack(sum);
  }

  return {
    scores,
    sumsAt(matrix, numbers, scaleK, distrust) {
      run.sampleEdges(from, width, height, x, y, count, ...matrix, seen, list(8), list(9));
      // One shape alone is expected as it is.
      const first = amounts === undefined;
      amounts = shapes.length === 1 ? [1] : fitted(scaleK);
      if (first || shapes.length > 1) {
        const [a, b, c] = [amounts[0]!, amounts[1] ?? 0, amounts[2] ?? 0];
        parts.forEach((part, k) => {
          run.mixThree(...part, count, a, b, c, list(4 + k));
          // The first shape is the baseline's, the others are drawn.
          if (k > 0 && shapes.length > 1) run.mixThree(...part, count, 0, b, c, list(DRAWN + k - 1));
        });
      }
      run.subtract(seen, expected, count, residual);
      if (distrust) levels();
      kernels.doubles(to, scores.length).fill(0);
      kernels.doubles(shared, NUMBERS).set(inOrder(numbers, distrust));
      run.stepSums(lists, count, places, shared, to, out);
      const total = out + 8 * SCORE;
      kernels.doubles(total, 3).fill(0);
      run.addScores(to, blocks.count, total, 0);
      scores.set(kernels.doubles(to, scores.length));
      return sumsOf(kernels.doubles(out, SUMS));
    },
  };
}

function inOrder(numbers: StepNumbers, distrust: boolean): number[] {
  return [
    numbers.noise2,
    numbers.clipK,
    numbers.misfit2,
    numbers.cx,
    numbers.cy,
    numbers.armPx,
    numbers.dxPx,
    numbers.dyPx,
    numbers.angleRad,
    numbers.pull,
    numbers.pullWidth,
    numbers.cauchy2,
    distrust ? 1 : 0,
    numbers.drawnMisfit2,
    numbers.noiseSlope2,
  ];
}

function sumsOf(numbers: Float64Array): StepSums {
  const [h0, h1, h2, h4, h5, h8, product, square, otherSquare, e0, e1, e2, e4, e5, e8, a, b, c] = numbers;
  return {
    hessian: [h0!, h1!, h2!, h4!, h5!, h8!],
    product: product!,
    square: square!,
    otherSquare: otherSquare!,
    excess: [e0!, e1!, e2!, e4!, e5!, e8!],
    score: [a!, b!, c!],
  };
}
