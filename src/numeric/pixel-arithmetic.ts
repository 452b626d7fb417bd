// numeric: pictures and numbers → their differences, sums and multiples, pixel by pixel.
import type { KernelExports } from "./kernel-exports.js";
import { kernelsFor } from "./kernels.js";

/** Compute a − b. Computed in double precision and rounded once; neither is modified. */
export function subtractPixels(a: Float32Array, b: Float32Array): Float32Array {
  const fast = byKernel((run) => run.subtract, a, b);
  if (fast !== null) return fast;
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! - b[i]!;
  return out;
}

/** Compute a + b, in the same way. */
export function addPixels(a: Float32Array, b: Float32Array): Float32Array {
  const fast = byKernel((run) => run.add, a, b);
  if (fast !== null) return fast;
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! + b[i]!;
  return out;
}

/** Compute (a − b)², in the same way. */
export function squaredDifference(a: Float32Array, b: Float32Array): Float32Array {
  const fast = byKernel((run) => run.squaredDifference, a, b);
  if (fast !== null) return fast;
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) {
    const d = a[i]! - b[i]!;
    out[i] = d * d;
  }
  return out;
}

/** Compute factor · a + plus, in the same way. @param out where to, as long as `a`, which it may be; null: a picture of
 *  its own. */
export function scalePixels(
  a: Float32Array,
  factor: number,
  plus = 0,
  out: Float32Array | null = null,
): Float32Array {
  const kernels = kernelsFor(a.length);
  if (kernels !== null) {
    const from = kernels.put(a);
    const to = kernels.take(4 * a.length);
    kernels.run.linear(from, a.length, factor, plus, to);
    if (out === null) return kernels.floats(to, a.length).slice();
    out.set(kernels.floats(to, a.length));
    return out;
  }
  const scaled = out ?? new Float32Array(a.length);
  for (let i = 0; i < scaled.length; i++) scaled[i] = factor * a[i]! + plus;
  return scaled;
}

/** Compute a − b; NaN where a third picture has no reading. */
export function differenceWhereRead(a: Float32Array, b: Float32Array, readings: Float32Array): Float32Array {
  const kernels = kernelsFor(a.length);
  if (kernels !== null) {
    const [one, other, of] = [kernels.put(a), kernels.put(b), kernels.put(readings)];
    const to = kernels.take(4 * a.length);
    kernels.run.differenceWhereRead(one, other, of, a.length, to);
    return kernels.floats(to, a.length).slice();
  }
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! - b[i]! + 0 * readings[i]!;
  return out;
}

/** Fill the pixels of a picture that have no reading from another one. */
export function fillFrom(a: Float32Array, other: Float32Array): Float32Array {
  const fast = byKernel((run) => run.fillFrom, a, other);
  if (fast !== null) return fast;
  const out = new Float32Array(a.length);
  for (let i = 0; i < out.length; i++) out[i] = a[i]! * 0 === 0 ? a[i]! : other[i]!;
  return out;
}

function byKernel(
  kernelOf: (run: KernelExports) => KernelExports["subtract"],
  a: Float32Array,
  b: Float32Array,
): Float32Array | null {
  const kernels = kernelsFor(a.length);
  if (kernels === null) return null;
  const [one, other] = [kernels.put(a), kernels.put(b)];
  const to = kernels.take(4 * a.length);
  kernelOf(kernels.run)(one, other, a.length, to);
  return kernels.floats(to, a.length).slice();
}

/** How many numbers are none. */
export function countMissing(values: Float32Array): number {
  const kernels = kernelsFor(values.length);
  if (kernels !== null) return kernels.run.countMissing(kernels.put(values), values.length);
  let count = 0;
  for (let i = 0; i < values.length; i++) if (Number.isNaN(values[i]!)) count++;
  return count;
}

/** The least and the largest number, ∞ and −∞ where there is none; NaN does not count. */
export function rangeOf(values: Float32Array): { readonly least: number; readonly most: number } {
  const kernels = kernelsFor(values.length);
  if (kernels !== null) {
    const [at, turned] = [kernels.put(values), kernels.take(4 * values.length)];
    kernels.run.linear(at, values.length, -1, 0, turned);
    const { largest } = kernels.run;
    return { least: 0 - largest(turned, values.length), most: largest(at, values.length) };
  }
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let i = 0; i < values.length; i++) {
    if (values[i]! < least) least = values[i]!;
    if (values[i]! > most) most = values[i]!;
  }
  return { least, most };
}

/** Copy a picture's numbers to where those of another one of its shape are that nobody needs any more, or to a new
 *  place: memory that is touched for the first time costs more than the copy.
 *  @returns the copy.
 */
export function copyInto(values: Float32Array, into: Float32Array | null): Float32Array {
  if (into === null) return values.slice();
  into.set(values);
  return into;
}
