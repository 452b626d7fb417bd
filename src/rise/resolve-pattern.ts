// rise: a moved pair and its difference → the sensor's pattern where edges had hidden it.
import { affineOf, type RigidTransform } from "../align/rigid-transform.js";
import type { SeparatedFrame } from "../align/separate-pattern.js";
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { createRaster, type Raster } from "../core/raster.js";
import { sharedKernels } from "../numeric/kernels.js";
import { addPixels, copyInto, scalePixels, subtractPixels } from "../numeric/pixel-arithmetic.js";
import { hiddenByKernel } from "./hidden-by-kernel.js";

/** Defaults of `resolvePattern`. */
export const RESOLVE_PATTERN_DEFAULTS = Object.freeze({
  /** Shift that the alignment may have left: at edges the difference tells less of the pattern, px. */
  shiftPx: 0.06,
  /** Steps of the conjugate gradients. A pattern that hides over an edge's width is reached from both sides in half as
   *  many shifts of a pixel; more steps fit noise. */
  steps: 8,
  /** Pairs that moved by less hide nothing: the pattern is subtracted from itself, px. */
  leastShiftPx: 0.05,
  /** Scene and pattern take the place of those that were given, which nobody needs any more. */
  overwrites: false,
});

/** The hidden pattern is taken for no smaller than this share of the one in flat places, of which white noise is a part
 *  that is not known exactly. */
const LEAST_PATTERN_SHARE = 0.2;

/** Tell pattern from scene where a single frame could not: what stays with the sensor appears twice in the difference
 *  of a moved pair, once where it is and once, with the other sign, one shift away.
 *  Method: least squares for the hidden part of the pattern, with its size as prior, by conjugate gradients.
 *  @param separated the baseline's scene and pattern; not modified unless `options.overwrites`.
 *  @param rise the difference made with them, K; not modified.
 *  @param noiseK white noise of one pixel of the difference, K.
 *  @param mirrors 1 = shows the room, whose change is no pattern; null without a board.
 *  @returns scene and pattern anew; the same object where nothing can be told.
 */
export function resolvePattern(
  separated: SeparatedFrame,
  rise: Raster<"K">,
  transform: RigidTransform,
  noiseK: number,
  mirrors: Uint8Array | null,
  options: OptionsOf<typeof RESOLVE_PATTERN_DEFAULTS> = {},
): SeparatedFrame {
  const o = { ...RESOLVE_PATTERN_DEFAULTS, ...options };
  const { scene, pattern, sceneShare, patternSigmaK } = separated;
  const { width, height } = rise;
  // A turn moves pixels by its angle times their distance from the middle: a quarter of the width, as the usual one.
  if (
    Math.hypot(transform.dxPx, transform.dyPx) + (Math.abs(transform.angleRad) * width) / 4 <
    o.leastShiftPx
  )
    return separated;
  const priorK = Math.sqrt(
    Math.max(patternSigmaK ** 2 - noiseK ** 2 / 2, (LEAST_PATTERN_SHARE * patternSigmaK) ** 2),
  );
  const kernels = sharedKernels();
  if (kernels !== null) {
    const n = width * height;
    const expected = kernels.take(4 * n);
    kernels.floats(expected, n).set(sceneShare);
    kernels.run.linear(expected, n, priorK, 0, expected);
    const hidden = hiddenByKernel(kernels, separated, rise, transform, noiseK, mirrors, expected, o);
    const part = kernels.take(4 * n);
    const changed = (data: Float32Array, change: "add" | "subtract"): Float32Array => {
      kernels.floats(part, n).set(data);
      kernels.run[change](part, hidden, n, part);
      return copyInto(kernels.floats(part, n), o.overwrites ? data : null);
    };
    return {
      ...separated,
      scene: createRaster("degC", width, height, changed(scene.data, "subtract")),
      pattern: createRaster("K", width, height, changed(pattern.data, "add")),
    };
  }
  // The unknown u is the hidden pattern in units of its prior, where the scene's share hides it.
  const scale = scalePixels(sceneShare, priorK);
  const hidden = plainHidden(separated, rise, transform, noiseK, mirrors, scale, o);
  const changed = (data: Float32Array, change: typeof addPixels): Float32Array => {
    const out = change(data, hidden);
    return o.overwrites ? copyInto(out, data) : out;
  };
  return {
    ...separated,
    scene: createRaster("degC", width, height, changed(scene.data, subtractPixels)),
    pattern: createRaster("K", width, height, changed(pattern.data, addPixels)),
  };
}

/** The hidden part of the pattern, by the plain code. @param scale its size as expected, K per pixel. */
function plainHidden(
  { scene }: SeparatedFrame,
  rise: Raster<"K">,
  transform: RigidTransform,
  noiseK: number,
  mirrors: Uint8Array | null,
  scale: Float32Array,
  o: ResolvedOptions<typeof RESOLVE_PATTERN_DEFAULTS>,
): Float32Array {
  const { width, height } = rise;
  const size = width * height;
  const weight = new Float32Array(size);
  const detail = new Float32Array(size);
  for (let y = 1; y < height - 1; y++) {
    for (let x = 1, i = y * width + 1; x < width - 1; x++, i++) {
      const d = fineDetail(rise.data, i, width);
      const across = scene.data[i + 1]! - scene.data[i - 1]!;
      const down = scene.data[i + width]! - scene.data[i - width]!;
      const slope2 = 0.25 * (across * across + down * down);
      if (!((d + slope2) * 0 === 0) || mirrors?.[i] === 1) continue;
      detail[i] = d;
      weight[i] = 1 / (noiseK * noiseK + o.shiftPx * o.shiftPx * slope2);
    }
  }
  const moved = movedReads(transform, rise);
  return solveHidden(scale, detail, weight, moved, o.steps);
}

/** Where each pixel of the difference read the powered frame: the upper left of four pixels (−1: outside), and four
 *  weights a pixel. */
interface MovedReads {
  readonly at: Int32Array;
  readonly weights: Float32Array;
  readonly width: number;
}

function movedReads(transform: RigidTransform, shape: Raster<"K">): MovedReads {
  const { width, height } = shape;
  const [a, b, c, d, e, f] = affineOf(transform, shape);
  const at = new Int32Array(width * height).fill(-1);
  const weights = new Float32Array(4 * width * height);
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const u = a * x + b * y + c;
      const v = d * x + e * y + f;
      const u0 = Math.floor(u);
      const v0 = Math.floor(v);
      if (u0 < 0 || v0 < 0 || u0 + 1 >= width || v0 + 1 >= height) continue;
      at[i] = v0 * width + u0;
      const s = u - u0;
      const t = v - v0;
      weights[4 * i] = (1 - s) * (1 - t);
      weights[4 * i + 1] = s * (1 - t);
      weights[4 * i + 2] = (1 - s) * t;
      weights[4 * i + 3] = s * t;
    }
  }
  return { at, weights, width };
}

/** Pixels that take part, by their indices, rising: where all of the scene is known nothing is hidden, and most of a
 *  frame need not be looked at.
 */
interface Involved {
  /** Where pattern may be hidden. */
  readonly hidden: Int32Array;
  /** Where the difference shows some of it. */
  readonly showing: Int32Array;
  /** Of those, the ones that have neighbours all round. */
  readonly inside: Int32Array;
  /** Where the fine detail of the difference shows some of it, and may be compared. */
  readonly compared: Int32Array;
}

function involved(scale: Float32Array, weight: Float32Array, { at, width }: MovedReads): Involved {
  const n = scale.length;
  const shows = new Uint8Array(n);
  const near = new Uint8Array(n);
  for (let i = 0; i < n; i++) {
    const k = at[i]!;
    if (k < 0) continue;
    if (!(scale[i]! + scale[k]! + scale[k + 1]! + scale[k + width]! + scale[k + width + 1]! > 0)) continue;
    shows[i] = 1;
    for (let row = i - width; row <= i + width; row += width) {
      near[row - 1] = 1;
      near[row] = 1;
      near[row + 1] = 1;
    }
  }
  const hidden = new Int32Array(n);
  const showing = new Int32Array(n);
  const inside = new Int32Array(n);
  const compared = new Int32Array(n);
  let [hiddenCount, showingCount, insideCount, comparedCount] = [0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    if (scale[i]! > 0) hidden[hiddenCount++] = i;
    if (near[i] === 1 && weight[i]! > 0) compared[comparedCount++] = i;
    if (shows[i] === 0) continue;
    showing[showingCount++] = i;
    const x = i % width;
    if (i >= width && i < n - width && x !== 0 && x !== width - 1) inside[insideCount++] = i;
  }
  return {
    hidden: hidden.subarray(0, hiddenCount),
    showing: showing.subarray(0, showingCount),
    inside: inside.subarray(0, insideCount),
    compared: compared.subarray(0, comparedCount),
  };
}

/** Minimise Σ w (d + F(h − h moved))² + Σ u² over u, with h = scale·u and F the fine detail; returns h. */
function solveHidden(
  scale: Float32Array,
  detail: Float32Array,
  weight: Float32Array,
  moved: MovedReads,
  steps: number,
): Float32Array {
  const n = scale.length;
  const { width } = moved;
  const { hidden, showing, inside, compared } = involved(scale, weight, moved);
  const u = new Float32Array(n);
  const h = new Float32Array(n);
  const q = new Float32Array(n);
  const residual = new Float32Array(n);
  const shown = new Float32Array(n);
  const weighted = new Float32Array(n);
  // Residual of the normal equations at u = 0: −Aᵀ W d.
  for (let j = 0; j < compared.length; j++) {
    const i = compared[j]!;
    weighted[i] = -weight[i]! * detail[i]!;
  }
  adjoint(weighted, inside, moved, residual);
  let rho = 0;
  for (let j = 0; j < hidden.length; j++) {
    const i = hidden[j]!;
    residual[i]! *= scale[i]!;
    rho += residual[i]! * residual[i]!;
  }
  const direction = new Float32Array(n);
  for (let j = 0; j < hidden.length; j++) {
    const i = hidden[j]!;
    direction[i] = residual[i]!;
  }
  for (let step = 0; step < steps && rho > 0; step++) {
    for (let j = 0; j < hidden.length; j++) {
      const i = hidden[j]!;
      h[i] = scale[i]! * direction[i]!;
    }
    forward(h, showing, moved, shown);
    for (let j = 0; j < compared.length; j++) {
      const i = compared[j]!;
      weighted[i] = weight[i]! * fineDetail(shown, i, width);
    }
    adjoint(weighted, inside, moved, q);
    let curve = 0;
    for (let j = 0; j < hidden.length; j++) {
      const i = hidden[j]!;
      q[i] = q[i]! * scale[i]! + direction[i]!;
      curve += q[i]! * direction[i]!;
    }
    const alpha = rho / curve;
    let next = 0;
    for (let j = 0; j < hidden.length; j++) {
      const i = hidden[j]!;
      u[i]! += alpha * direction[i]!;
      residual[i]! -= alpha * q[i]!;
      next += residual[i]! * residual[i]!;
    }
    for (let j = 0; j < hidden.length; j++) {
      const i = hidden[j]!;
      direction[i] = residual[i]! + (next / rho) * direction[i]!;
    }
    rho = next;
  }
  for (let j = 0; j < hidden.length; j++) {
    const i = hidden[j]!;
    h[i] = scale[i]! * u[i]!;
  }
  return h;
}

/** A pixel less its average under the weights 1 2 1 each way, of σ 0.7 px: below the blur of any optics, so that no
 *  heat passes. For pixels with neighbours all round; symmetric.
 */
function fineDetail(values: Float32Array, i: number, width: number): number {
  const above = i - width;
  const below = i + width;
  const sides = values[i - 1]! + values[i + 1]! + values[above]! + values[below]!;
  const corners = values[above - 1]! + values[above + 1]! + values[below - 1]! + values[below + 1]!;
  return 0.75 * values[i]! - 0.125 * sides - 0.0625 * corners;
}

/** h − h moved, at some pixels. */
function forward(
  h: Float32Array,
  pixels: Int32Array,
  { at, weights, width }: MovedReads,
  out: Float32Array,
): void {
  for (let j = 0; j < pixels.length; j++) {
    const i = pixels[j]!;
    const k = at[i]!;
    const w = 4 * i;
    out[i] =
      h[i]! -
      weights[w]! * h[k]! -
      weights[w + 1]! * h[k + 1]! -
      weights[w + 2]! * h[k + width]! -
      weights[w + 3]! * h[k + width + 1]!;
  }
}

/** The transposed of fine detail after `forward`, from what some pixels show. */
function adjoint(
  weighted: Float32Array,
  pixels: Int32Array,
  { at, weights, width }: MovedReads,
  out: Float32Array,
): void {
  out.fill(0);
  for (let j = 0; j < pixels.length; j++) {
    const i = pixels[j]!;
    const k = at[i]!;
    const w = 4 * i;
    const value = fineDetail(weighted, i, width);
    out[i]! += value;
    out[k]! -= weights[w]! * value;
    out[k + 1]! -= weights[w + 1]! * value;
    out[k + width]! -= weights[w + 2]! * value;
    out[k + width + 1]! -= weights[w + 3]! * value;
  }
}
