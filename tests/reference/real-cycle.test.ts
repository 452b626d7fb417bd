// Reference: a uniform black body seen by an uncooled array, by others, read where it lies; see that folder's README.
import { beforeAll, describe, expect, it } from "vitest";
import { averageFrames } from "../../src/clean/average-frames.js";
import { findHotspots } from "../../src/findings/find-hotspots.js";
import type { Frame } from "../../src/frames/frame.js";
import { median } from "../../src/numeric/median.js";
import { readFrames } from "../../src/read/read-frames.js";
import { sharedFolder } from "./shared-folder.js";

const real = sharedFolder("real-frames");

describe.skipIf(real.missing)(
  `sixteen uniform frames, followed at periods of no meaning${real.title}`,
  () => {
    let frames: Frame[] = [];
    let sigmaK = Number.NaN;
    beforeAll(async () => {
      ({ frames } = await readFrames([`${real.path}/uniform/*.png`], {
        scale: { lowC: 0, highC: 1143.717 },
      }));
      sigmaK = median(averageFrames(frames.map((frame) => frame.raster)).sigma!.data);
    });

    it.each([2.4, 3.5, 5.33, 7, 8])(
      "a period of %f frames: noise near √(2/16)·σ, and no hotspot",
      (cycleS) => {
        const findings = findHotspots({ baseline: frames, powered: frames, rateHz: 1, cycleS });
        const ratio = findings.cycle!.amplitudeSigmaK / (Math.sqrt(2 / 16) * sigmaK);
        // White noise would give 1.01 to 1.08: with so few frames drift and harmonics, which are fitted along, cost
        // some. What real noise adds is not white; the median over pixels and the root mean square here differ by 2 %.
        expect(ratio).toBeGreaterThan(0.97);
        expect(ratio).toBeLessThan(1.15);
        expect(findings.hotspots).toEqual([]);
        // Five periods: one of them below a thousandth would be one in two hundred such sets.
        expect(findings.cycle!.pValue).toBeGreaterThan(0.001);
      },
    );

    it("no rhythm is found in them", () => {
      expect(() => findHotspots({ baseline: frames, powered: frames, rateHz: 1, cycleS: "find" })).toThrow(
        /^E_CYCLE_NONE/,
      );
    });
  },
);
