// bench: a size → a pair of frames of a moved scene with three warm spots, made by formula.
import { makeRandom } from "../simulate/random.js";

/** What is made. */
export const CHAIN_SCENE = Object.freeze({
  shift: { dxPx: 1.3, dyPx: -0.7 },
  noiseK: 0.04,
  /** Places as shares of the frame, and heights, K. */
  spots: [
    { x: 0.31, y: 0.42, riseK: 1.4 },
    { x: 0.62, y: 0.27, riseK: 0.9 },
    { x: 0.71, y: 0.73, riseK: 0.6 },
  ],
  sigmaPx: 3,
});

/** Make the two frames, °C. */
export function chainFrames(
  width: number,
  height: number,
): { baseline: Float32Array; powered: Float32Array } {
  const { shift, noiseK, spots, sigmaPx } = CHAIN_SCENE;
  const random = makeRandom(`chain ${width} ${height}`);
  const scene = (x: number, y: number): number =>
    24 +
    0.8 * Math.tanh(3 * Math.sin(x / 11.3 + 0.7 * Math.sin(y / 37)) * Math.sin(y / 8.9 + Math.sin(x / 53))) +
    0.5 * Math.sin(x / 91) * Math.cos(y / 67);
  const make = (dx: number, dy: number, warm: boolean): Float32Array => {
    const out = new Float32Array(width * height);
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        let valueC = scene(x - dx, y - dy) + noiseK * random.normal();
        for (const spot of warm ? spots : []) {
          const r2 = (x - dx - spot.x * width) ** 2 + (y - dy - spot.y * height) ** 2;
          if (r2 < 400) valueC += spot.riseK * Math.exp((-0.5 * r2) / sigmaPx ** 2);
        }
        out[i] = valueC;
      }
    }
    return out;
  };
  return { baseline: make(0, 0, false), powered: make(shift.dxPx, shift.dyPx, true) };
}
