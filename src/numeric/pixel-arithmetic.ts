// numeric: pictures and numbers → their differences, sums and multiples, pixel by pixel.
import type { KernelExports } from "./kernel-exports.js";
import { MOST_FOR_KERNELS, sharedKernels } from "./kernels.js";

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

/** Compute factor · a + plus, in the same way. @param out where to, as long as `a`, which it may be; null: a picture of its own. */
export function scalePixels(
  a: Float32Array,
  factor: number,
  plus = 0,
  out: Float32Array | null = null,
): Float32Array {
  const kernels = a.length > MOST_FOR_KERNELS ? null : sharedKernels();
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
  const kernels = a.length > MOST_FOR_KERNELS ? null : sharedKernels();
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
  const kernels = a.length > MOST_FOR_KERNELS ? null : sharedKernels();
  if (kernels === null) return null;
  const [one, other] = [kernels.put(a), kernels.put(b)];
  const to = kernels.take(4 * a.length);
  kernelOf(kernels.run)(one, other, a.length, to);
  return kernels.floats(to, a.length).slice();
}
