import { describe, expect, it } from "vitest";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import { ANALYSE_DEFAULTS } from "../../../src/findings/analyse-options.js";
import { placeSigma } from "../../../src/findings/place-sigma.js";
import { preparePair } from "../../../src/findings/prepare-pair.js";
import { frameFromRaster } from "../../../src/frames/frame.js";
import { riseColour } from "../../../src/report/colour-scale.js";
import { paintRise } from "../../../src/report/paint-rise.js";
import { makeRandom } from "../../simulate/random.js";

const [WIDTH, HEIGHT] = [120, 90];
/** A strong spot, and one of 2 % of it that is sure all the same. */
const SPOTS = [
  { x: 40, y: 45, peakK: 60 },
  { x: 95, y: 20, peakK: 1.2 },
] as const;
const random = makeRandom("two spots");
const frame = (isOn: boolean) =>
  frameFromRaster(
    createRaster(
      "degC",
      WIDTH,
      HEIGHT,
      Float32Array.from({ length: WIDTH * HEIGHT }, (_, i) => {
        const [x, y] = [i % WIDTH, Math.floor(i / WIDTH)];
        const heat = SPOTS.reduce(
          (sum, spot) => sum + spot.peakK * Math.exp(-((x - spot.x) ** 2 + (y - spot.y) ** 2) / 12),
          0,
        );
        return 24 + Math.sin(x / 9) + 0.04 * random.normal() + (isOn ? heat : 0);
      }),
    ),
  );
const [off, on] = [frame(false), frame(true)];

describe("placeSigma", () => {
  it("is the level at which places are looked for", () => {
    const pair = preparePair([off], [on], null, null, null, null, ANALYSE_DEFAULTS);
    const { findings } = analyse({ baseline: [off], powered: [on] });
    expect(placeSigma(findings, WIDTH * HEIGHT)).toBe(pair.threshold);
    expect(placeSigma(findings, WIDTH * HEIGHT, 1)).toBeLessThan(pair.threshold);
  });

  it("puts a spot into colour that is listed, however weak it is beside another", () => {
    const analysis = analyse({ baseline: [off], powered: [on] });
    expect(analysis.findings.hotspots).toHaveLength(2);
    const { rgb, riseK } = paintRise(analysis, WIDTH, HEIGHT);
    for (const { x, y } of SPOTS) {
      const at = 3 * (y * WIDTH + x);
      const [red, green, blue] = [rgb[at]!, rgb[at + 1]!, rgb[at + 2]!];
      expect([red === green && green === blue, x]).toEqual([false, x]);
    }
    // The key begins at the weakest rise in colour, in the first of the colours.
    expect(riseK!.low).toBeLessThan(1.2);
    const first = riseColour(0);
    const at = 3 * (SPOTS[1].y * WIDTH + SPOTS[1].x);
    expect(Math.abs(rgb[at]! - first[0])).toBeLessThan(12);
  });
});
