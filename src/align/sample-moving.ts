// align: picture and places between its pixels → value and slopes there.
import type { AffineMatrix } from "../numeric/warp.js";
import type { EdgeSamples } from "./edge-samples.js";

/** Samples done in one call: a process that runs once gets fast code for the next call, not for the loop it is in. */
const PIECE = 128;

/** What a picture shows at the samples. */
export interface MovingSamples {
  readonly value: Float32Array;
  /** Slopes along the samples' own axes, per px. */
  readonly slopeX: Float32Array;
  readonly slopeY: Float32Array;
}

/** Space for so many samples. */
export function movingSamples(count: number): MovingSamples {
  return {
    value: new Float32Array(count),
    slopeX: new Float32Array(count),
    slopeY: new Float32Array(count),
  };
}

/** Read a picture between its pixels where a map brings the samples. NaN outside, within a pixel of the border, and
 *  where any of the 16 pixels around has no reading.
 *  Method: Keys 1981, as in `warpRaster`; the slopes are those of the same polynomial.
 *  @param out is filled; as many as there are samples.
 */
export function sampleMoving(
  moving: Float32Array,
  width: number,
  height: number,
  samples: EdgeSamples,
  matrix: AffineMatrix,
  out: MovingSamples,
): void {
  for (let from = 0; from < samples.count; from += PIECE) {
    sampleSome(moving, width, height, samples, matrix, out, from, Math.min(samples.count, from + PIECE));
  }
}

/** The samples from one on up to another. */
function sampleSome(
  moving: Float32Array,
  width: number,
  height: number,
  { x, y }: EdgeSamples,
  matrix: AffineMatrix,
  { value, slopeX, slopeY }: MovingSamples,
  from: number,
  to: number,
): void {
  const [a, b, c, d, e, f] = matrix;
  for (let k = from; k < to; k++) {
    const atX = a * x[k]! + b * y[k]! + c;
    const atY = d * x[k]! + e * y[k]! + f;
    if (!(atX >= 1 && atX < width - 2 && atY >= 1 && atY < height - 2)) {
      value[k] = Number.NaN;
      continue;
    }
    const column = Math.floor(atX);
    const row = Math.floor(atY);
    const t = atX - column;
    const s = atY - row;
    // Weights at −1, 0, 1, 2 and their derivatives.
    const x0 = t * (-0.5 + t * (1 - 0.5 * t));
    const x1 = 1 + t * t * (-2.5 + 1.5 * t);
    const x2 = t * (0.5 + t * (2 - 1.5 * t));
    const x3 = t * t * (-0.5 + 0.5 * t);
    const dx0 = -0.5 + t * (2 - 1.5 * t);
    const dx1 = t * (-5 + 4.5 * t);
    const dx2 = 0.5 + t * (4 - 4.5 * t);
    const dx3 = t * (-1 + 1.5 * t);
    let i = (row - 1) * width + column - 1;
    const r0 = x0 * moving[i]! + x1 * moving[i + 1]! + x2 * moving[i + 2]! + x3 * moving[i + 3]!;
    const g0 = dx0 * moving[i]! + dx1 * moving[i + 1]! + dx2 * moving[i + 2]! + dx3 * moving[i + 3]!;
    i += width;
    const r1 = x0 * moving[i]! + x1 * moving[i + 1]! + x2 * moving[i + 2]! + x3 * moving[i + 3]!;
    const g1 = dx0 * moving[i]! + dx1 * moving[i + 1]! + dx2 * moving[i + 2]! + dx3 * moving[i + 3]!;
    i += width;
    const r2 = x0 * moving[i]! + x1 * moving[i + 1]! + x2 * moving[i + 2]! + x3 * moving[i + 3]!;
    const g2 = dx0 * moving[i]! + dx1 * moving[i + 1]! + dx2 * moving[i + 2]! + dx3 * moving[i + 3]!;
    i += width;
    const r3 = x0 * moving[i]! + x1 * moving[i + 1]! + x2 * moving[i + 2]! + x3 * moving[i + 3]!;
    const g3 = dx0 * moving[i]! + dx1 * moving[i + 1]! + dx2 * moving[i + 2]! + dx3 * moving[i + 3]!;
    const y0 = s * (-0.5 + s * (1 - 0.5 * s));
    const y1 = 1 + s * s * (-2.5 + 1.5 * s);
    const y2 = s * (0.5 + s * (2 - 1.5 * s));
    const y3 = s * s * (-0.5 + 0.5 * s);
    const across = y0 * g0 + y1 * g1 + y2 * g2 + y3 * g3;
    const down =
      (-0.5 + s * (2 - 1.5 * s)) * r0 +
      s * (-5 + 4.5 * s) * r1 +
      (0.5 + s * (4 - 4.5 * s)) * r2 +
      s * (-1 + 1.5 * s) * r3;
    value[k] = y0 * r0 + y1 * r1 + y2 * r2 + y3 * r3;
    slopeX[k] = a * across + d * down;
    slopeY[k] = b * across + e * down;
  }
}
