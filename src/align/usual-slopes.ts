// align: band-passed picture → how steep noise and pattern make it, and how steep the bench beside the board is.
import { evenStride } from "../numeric/even-stride.js";
import { sharedKernels } from "../numeric/kernels.js";
import { median } from "../numeric/median.js";

/** The median slope is taken over so many pixels at most. */
const SLOPE_SAMPLE = 12_000;
/** Of fewer pixels no median of the bench is taken: it would be known to a seventh at best (1.44 ÷ √100: squared slopes
 *  of noise are exponential). */
const FEWEST_OF_BENCH = 100;

/** Median of the squared slope (over two pixels). */
interface UsualSlopes {
  /** What noise and pattern make everywhere. */
  readonly everywhere: number;
  /** Off the board; 0 where no board is known, or next to nothing lies beside it. */
  readonly bench: number;
}

/** Take it from an even sample; pixels beside holes and at the border count as flat. */
export function usualSlopes2(template: Float32Array, width: number, beside: Uint8Array | null): UsualSlopes {
  const step = evenStride(template.length, width, SLOPE_SAMPLE);
  const sampled = Math.ceil(template.length / step);
  const kernels = sharedKernels();
  if (kernels !== null) {
    const [from, to] = [kernels.put(template), kernels.take(4 * sampled)];
    kernels.run.squaredSlopes(from, width, template.length, step, to);
    return usualOf(kernels.floats(to, sampled).slice(), step, beside);
  }
  const slope2 = new Float32Array(sampled);
  for (let k = 0, i = 0; i < template.length; k++, i += step) {
    const x = i % width;
    if (x === 0 || x === width - 1 || i < width || i >= template.length - width) continue;
    const s = slope2At(template, i, width);
    if (s * 0 === 0) slope2[k] = s;
  }
  return usualOf(slope2, step, beside);
}

/** Medians over every so many pixels. Everywhere it is that of the whole frame or of the board alone, whichever is
 *  less: what noise and pattern make is in both, and parts on the one or a bench with structure of its own on the other
 *  only add to it.
 */
function usualOf(sample: Float32Array, step: number, beside: Uint8Array | null): UsualSlopes {
  const whole = median(sample);
  if (beside === null) return { everywhere: whole, bench: 0 };
  const inside = sample.filter((_, k) => beside[k * step] !== 1);
  const bench =
    sample.length - inside.length < FEWEST_OF_BENCH
      ? 0
      : median(sample.filter((_, k) => beside[k * step] === 1));
  return { everywhere: inside.length === 0 ? whole : Math.min(whole, median(inside)), bench };
}

/** How many pixels have readings and lie on the board, from an even sample. */
export function readingsOn(template: Float32Array, width: number, beside: Uint8Array | null): number {
  const step = evenStride(template.length, width, SLOPE_SAMPLE);
  let count = 0;
  for (let i = 0; i < template.length; i += step) {
    if (template[i]! * 0 === 0 && beside?.[i] !== 1) count++;
  }
  return step * count;
}

/** Squared slope over two pixels. */
export function slope2At(template: Float32Array, i: number, width: number): number {
  const across = template[i + 1]! - template[i - 1]!;
  const down = template[i + width]! - template[i - width]!;
  return across * across + down * down;
}
