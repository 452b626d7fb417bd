// rise: rise and what lies off the board → the rise without the camera's smooth drift over the frame.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { choleskyFactor, choleskySolve } from "../numeric/cholesky.js";
import { sharedKernels } from "../numeric/kernels.js";
import { between, median, SIGMA_PER_MAD } from "../numeric/median.js";

/** Defaults of `removeSmoothDrift`. */
export const SMOOTH_DRIFT_DEFAULTS = Object.freeze({
  /** Side of the blocks whose medians are fitted, as a share of the frame's width: some hundred blocks off the
   *  board. */
  blockShare: 1 / 32,
  /** Share of a block that must lie off the board. */
  blockFill: 0.6,
  /** Fewer blocks tell nothing of six terms. */
  fewestBlocks: 24,
  /** Size of each term before anything is seen, K: uneven drift of an uncooled camera between two frames. */
  termSigmaK: 0.15,
  /** Blocks further than this from the surface, in units of their spread, have no say: a hand, a lead, the board's
   *  shadow. Tukey's biweight, 95 % efficient at 4.685 (Holland and Welsch 1977, doi:10.1080/03610927708827533). */
  cutSigma: 4.685,
  /** Errors of blocks hang together over a few of them; a block counts for this share. */
  independence: 0.25,
  /** Rounds of re-weighting; the surface settles within a few. */
  rounds: 8,
});

/** Terms of a parabola in x and y. */
const TERMS = 6;
/** Blocks of frames without noise agree exactly; a spread of 0.1 mK keeps their weights finite, K. */
const LEAST_SPREAD_K = 1e-4;

/** Take off what drifted smoothly over the frame: a surface of second order, measured off the board, where nothing
 *  heats. The board covers a part of the frame only; how far the surface holds there, the terms' prior size decides:
 *  what the blocks don't tell stays as it is.
 *  @param rise K, NaN = no reading; not modified.
 *  @param offBoard 1 = certainly off the board; null where no board is known: then nothing is taken off.
 *  @returns K, same shape.
 */
export function removeSmoothDrift(
  rise: Raster<"K">,
  offBoard: Uint8Array | null,
  options: OptionsOf<typeof SMOOTH_DRIFT_DEFAULTS> = {},
): Raster<"K"> {
  const o = { ...SMOOTH_DRIFT_DEFAULTS, ...options };
  if (offBoard === null) return rise;
  const { width, height, data } = rise;
  const blocks = blockMedians(
    data,
    offBoard,
    width,
    height,
    Math.max(4, Math.round(width * o.blockShare)),
    o,
  );
  if (blocks.length < o.fewestBlocks) return rise;
  return createRaster("K", width, height, withoutSurface(rise, fitSurface(blocks, o)));
}

function withoutSurface({ width, height, data }: Raster<"K">, surface: Float64Array): Float32Array {
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, terms] = [kernels.put(data), kernels.put(surface)];
    const to = kernels.take(4 * data.length);
    kernels.run.takeSurface(from, width, height, terms, to);
    return kernels.floats(to, data.length).slice();
  }
  const out = new Float32Array(data.length);
  for (let y = 0, i = 0; y < height; y++) {
    const v = (2 * y) / (height - 1) - 1;
    // A polynomial of u with the row's own coefficients.
    const atZero = surface[0]! + surface[2]! * v + surface[4]! * (v * v - 1 / 3) - surface[3]! / 3;
    const slope = surface[1]! + surface[5]! * v;
    for (let x = 0; x < width; x++, i++) {
      const u = (2 * x) / (width - 1) - 1;
      out[i] = data[i]! - (atZero + u * (slope + surface[3]! * u));
    }
  }
  return out;
}

interface Block {
  readonly terms: readonly number[];
  readonly valueK: number;
}

function blockMedians(
  data: Float32Array,
  offBoard: Uint8Array,
  width: number,
  height: number,
  side: number,
  { blockFill }: { readonly blockFill: number },
): Block[] {
  const fewest = blockFill * side * side;
  const across = Math.floor(width / side);
  const medians =
    mediansByKernel(data, offBoard, width, height, side, fewest) ??
    plainMedians(data, offBoard, width, height, side, fewest);
  const blocks: Block[] = [];
  for (let k = 0; k < medians.length; k++) {
    const valueK = medians[k]!;
    if (Number.isNaN(valueK)) continue;
    const [x0, y0] = [side * (k % across), side * Math.floor(k / across)];
    const u = (2 * x0 + side - 1) / (width - 1) - 1;
    const v = (2 * y0 + side - 1) / (height - 1) - 1;
    blocks.push({ terms: [1, u, v, u * u - 1 / 3, v * v - 1 / 3, u * v], valueK });
  }
  return blocks;
}

/** Medians of the blocks in reading order, NaN where a block has fewer readings off the board. */
function mediansByKernel(
  data: Float32Array,
  offBoard: Uint8Array,
  width: number,
  height: number,
  side: number,
  fewest: number,
): Float64Array | null {
  const kernels = sharedKernels();
  if (kernels === null) return null;
  const count = Math.floor(width / side) * Math.floor(height / side);
  const [from, wanted] = [kernels.put(data), kernels.put(offBoard)];
  const [work, to] = [kernels.take(8 * side * side), kernels.take(16 * count)];
  kernels.run.blockMiddles(from, wanted, width, height, side, fewest, work, to);
  const middles = kernels.doubles(to, 2 * count);
  return Float64Array.from({ length: count }, (_, k) => between(middles[2 * k]!, middles[2 * k + 1]!));
}

function plainMedians(
  data: Float32Array,
  offBoard: Uint8Array,
  width: number,
  height: number,
  side: number,
  fewest: number,
): Float64Array {
  const medians: number[] = [];
  const values = new Float64Array(side * side);
  for (let y0 = 0; y0 + side <= height; y0 += side) {
    for (let x0 = 0; x0 + side <= width; x0 += side) {
      let count = 0;
      for (let y = y0; y < y0 + side; y++) {
        for (let i = y * width + x0; i < y * width + x0 + side; i++) {
          if (offBoard[i] === 1 && data[i]! * 0 === 0) values[count++] = data[i]!;
        }
      }
      medians.push(count < fewest ? Number.NaN : median(values.subarray(0, count)));
    }
  }
  return Float64Array.from(medians);
}

/** Terms of the surface by re-weighted least squares; the level is free. */
function fitSurface(
  blocks: readonly Block[],
  o: ResolvedOptions<typeof SMOOTH_DRIFT_DEFAULTS>,
): Float64Array {
  const level = median(Float64Array.from(blocks, ({ valueK }) => valueK));
  let surface: Float64Array = Float64Array.of(level, 0, 0, 0, 0, 0);
  for (let round = 0; round < o.rounds; round++) {
    const left = Float64Array.from(blocks, ({ terms, valueK }) => valueK - along(surface, terms));
    const spreadK = Math.max(LEAST_SPREAD_K, SIGMA_PER_MAD * median(left.map(Math.abs)));
    const gram = new Float64Array(TERMS * TERMS);
    const right = new Float64Array(TERMS);
    blocks.forEach(({ terms, valueK }, b) => {
      const z = left[b]! / (o.cutSigma * spreadK);
      if (Math.abs(z) >= 1) return;
      const weight = (o.independence * (1 - z * z) ** 2) / spreadK ** 2;
      for (let j = 0; j < TERMS; j++) {
        right[j]! += weight * terms[j]! * valueK;
        for (let k = 0; k < TERMS; k++) gram[j * TERMS + k]! += weight * terms[j]! * terms[k]!;
      }
    });
    for (let k = 1; k < TERMS; k++) gram[k * TERMS + k]! += 1 / o.termSigmaK ** 2;
    const factor = choleskyFactor(gram, TERMS, 1e-12);
    if (factor === null) break;
    surface = Float64Array.from(choleskySolve(factor, TERMS, right));
  }
  return surface;
}

function along(surface: Float64Array, terms: readonly number[]): number {
  let sum = 0;
  for (let k = 0; k < TERMS; k++) sum += surface[k]! * terms[k]!;
  return sum;
}
