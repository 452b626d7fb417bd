import { describe, expect, it } from "vitest";
import { alignFrames } from "../../../src/align/align-frames.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { makeRandom } from "../../simulate/random.js";
import { makePair, STILL_BOARD } from "./make-pair.js";

const NUDGES = [
  [2.4, -1.32, 0],
  [-1.7, 2.1, 0.4],
  [0.35, 0.8, -0.5],
  [-0.5, 0.25, 0.1],
  [1.2, -0.9, 0.3],
  [-2.6, -0.4, -0.2],
] as const;

/** Content of a picture moved by a whole and a half pixel, along x and y. */
function besideBy(picture: Float32Array, width: number): Float32Array {
  return picture.map((_, i) => {
    const [near, far] = [picture[i - 1] ?? 0, picture[i - 1 - width] ?? 0];
    return 0.5 * (near + far);
  });
}

function rms(values: readonly number[]): number {
  return Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);
}

describe("alignFrames on boards that show little", () => {
  it("a map that lies a pixel beside the board does not draw a warmed board with it", () => {
    // Edges of 0.25 K at most, of which warming by 3 K makes up to 2.7 K where the map says: all but the baseline's own
    // 0.25 K pulls to where the map has them, (1, 0.5) px away.
    const errors = NUDGES.flatMap(([dxPx, dyPx, rotationDeg], k) => {
      const pair = makePair({ seed: `map ${k}`, dxPx, dyPx, rotationDeg, warmK: 3, contrastK: 0.25 });
      const map = besideBy(pair.emissivity, STILL_BOARD.width);
      const { transform, trusted } = alignFrames(pair.baseline, pair.powered, null, map);
      expect(trusted).toBe(true);
      return [transform.dxPx - dxPx, transform.dyPx - dyPx];
    });
    // The baseline's edges place the map to 0.1 px; what is left of it is shared out by the amounts.
    expect(rms(errors)).toBeLessThan(0.15);
  });

  it("pattern alone, which stays with the sensor, is no scene that stood still: none of 20 is trusted", () => {
    const [width, height] = [120, 90];
    const trusted = Array.from({ length: 20 }, (_, k) => {
      const random = makeRandom(`pattern ${k}`);
      const pattern = Float32Array.from({ length: width * height }, () => 0.15 * random.normal());
      const frame = (): Raster<"degC"> =>
        createRaster(
          "degC",
          width,
          height,
          pattern.map((p) => 24 + p + 0.04 * random.normal()),
        );
      return alignFrames(frame(), frame()).trusted;
    });
    expect(trusted.filter(Boolean)).toEqual([]);
  });

  it("under a pattern half as strong as the board's contrast the error is what is stated", () => {
    const ratios = NUDGES.flatMap(([dxPx, dyPx, rotationDeg], k) =>
      ["a", "b", "c"].flatMap((seed) => {
        const recipe = { contrastK: 0.3, patternK: 0.15, noiseK: 0.04 };
        const pair = makePair({ ...recipe, seed: `weak ${seed} ${k}`, dxPx, dyPx, rotationDeg });
        const found = alignFrames(pair.baseline, pair.powered);
        const error = Math.hypot(found.transform.dxPx - dxPx, found.transform.dyPx - dyPx);
        return found.trusted ? [error / found.uncertaintyPx] : [];
      }),
    );
    // A pair that is not trusted says so; were none trusted, this would tell nothing. Of 18 with two parameters of
    // three a root mean square of 1 is sure to within 0.4.
    expect(ratios.length).toBeGreaterThanOrEqual(15);
    expect(rms(ratios)).toBeLessThan(1.4);
  });

  it("what the border cuts off is no movement: the error on a board that reaches it is no greater", () => {
    const errors = NUDGES.flatMap(([dxPx, dyPx, rotationDeg], k) => {
      const pair = makePair({ seed: `near ${k}`, dxPx, dyPx, rotationDeg, noiseK: 0.01, width: 128 });
      // The board of `makePair` begins at 0.13 of the width and 0.17 of the height.
      const [x0, y0, w, h] = [12, 11, 102, 74];
      const crop = (data: Float32Array): Float32Array =>
        Float32Array.from({ length: w * h }, (_, i) => data[(y0 + Math.floor(i / w)) * 128 + x0 + (i % w)]!);
      const cropped = (frame: Raster<"degC">): Raster<"degC"> => createRaster("degC", w, h, crop(frame.data));
      const { transform } = alignFrames(
        cropped(pair.baseline),
        cropped(pair.powered),
        null,
        crop(pair.emissivity),
      );
      // About the other middle the same turn is another shift.
      const turn = (rotationDeg * Math.PI) / 180;
      const [u, v] = [12 + 101 / 2 - 127 / 2, 11 + 73 / 2 - 95 / 2];
      const x = dxPx + (Math.cos(turn) - 1) * u - Math.sin(turn) * v;
      const y = dyPx + Math.sin(turn) * u + (Math.cos(turn) - 1) * v;
      return [transform.dxPx - x, transform.dyPx - y];
    });
    // Noise of 10 mK alone allows some 0.01 px; what the border did made 0.034 of it.
    expect(rms(errors)).toBeLessThan(0.025);
  });

  it("structure of the bench, which lies still, does not hold a board of weak contrast", () => {
    const found = NUDGES.flatMap(([dxPx, dyPx, rotationDeg], k) =>
      ["a", "b", "c"].map((seed) => {
        const recipe = { benchK: 0.4, contrastK: 0.25, noiseK: 0.04, width: 160, height: 120 };
        const pair = makePair({ ...recipe, seed: `bench ${seed} ${k}`, dxPx, dyPx, rotationDeg });
        // A map's outline is sharp.
        const drawn = pair.emissivity.map((emissivity) => (emissivity > 0.3 ? emissivity : 0));
        const near = gaussianFilter(drawn, 160, 120, 2);
        const beside = Uint8Array.from(near, (share) => (share < 1e-3 ? 1 : 0));
        const { transform, uncertaintyPx, trusted } = alignFrames(
          pair.baseline,
          pair.powered,
          null,
          drawn,
          beside,
        );
        const error = Math.hypot(transform.dxPx - dxPx, transform.dyPx - dyPx);
        return { error, ratio: error / uncertaintyPx, trusted };
      }),
    );
    const told = found.filter(({ trusted }) => trusted);
    // A pair that is not trusted says so; were none trusted, this would tell nothing.
    expect(told.length).toBeGreaterThanOrEqual(15);
    // Without regard to the bench all of them were held within 0.4 px of where they had lain: off by 2 px at a stated
    // 0.1.
    expect(rms(told.map(({ error }) => error))).toBeLessThan(0.2);
    expect(rms(told.map(({ ratio }) => ratio))).toBeLessThan(1.25);
  });
});
