// Whatever the frames hold, the answer is one that JSON can hold, or an error with a code.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ToolError } from "../../../src/core/errors.js";
import { createRaster } from "../../../src/core/raster.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { type Findings, findingsSchema } from "../../../src/findings/findings-schema.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { makeRandom } from "../../simulate/random.js";
import { badNumbers } from "../../unit/findings/make-attempt.js";

interface Recipe {
  readonly width: number;
  readonly height: number;
  readonly noiseK: number;
  readonly holes: number;
  readonly stepK: number;
  readonly spotK: number;
  readonly seed: number;
}

// Width and height never agree.
const recipe = fc.record({
  width: fc.integer({ min: 1, max: 40 }),
  height: fc.integer({ min: 1, max: 30 }).map((h) => (h % 2 === 0 ? h + 40 : h)),
  noiseK: fc.constantFrom(0, 1e-6, 0.04, 3),
  holes: fc.constantFrom(0, 0, 0.02, 0.4, 0.99),
  stepK: fc.constantFrom(0, 0.01, 0.5),
  spotK: fc.constantFrom(0, 0.3, 8, 500),
  seed: fc.integer({ min: 0, max: 1e6 }),
});

function framesOf(r: Recipe): { baseline: Frame[]; powered: Frame[] } {
  const random = makeRandom(`any ${r.seed}`);
  const frame = (spotK: number): Frame => {
    const data = Float32Array.from({ length: r.width * r.height }, (_, i) => {
      if (random.chance(r.holes)) return Number.NaN;
      const x = i % r.width;
      const y = Math.floor(i / r.width);
      const spot = spotK * Math.exp(-((x - r.width / 3) ** 2 + (y - r.height / 2) ** 2) / 12);
      const value = 24 + (x > r.width / 2 ? 1.5 : 0) + spot + r.noiseK * random.normal();
      return r.stepK > 0 ? Math.round(value / r.stepK) * r.stepK : value;
    });
    return { ...frameFromRaster(createRaster("degC", r.width, r.height, data)), stepK: r.stepK || null };
  };
  return { baseline: [frame(0)], powered: [frame(r.spotK), frame(r.spotK)] };
}

function findOrRefuse(r: Recipe): Findings | null {
  try {
    return findHotspots(framesOf(r));
  } catch (error) {
    expect(error).toBeInstanceOf(ToolError);
    return null;
  }
}

describe("findHotspots on any frames", () => {
  it("no exception but one with a code, no number that JSON can't hold, the schema fits", () => {
    fc.assert(
      fc.property(recipe, (r) => {
        const findings = findOrRefuse(r);
        if (findings === null) return;
        expect(badNumbers(findings)).toEqual([]);
        expect(findingsSchema.parse(JSON.parse(JSON.stringify(findings)))).toEqual(findings);
        for (const { sourcePx, peakPx, sourceSigmaPx } of findings.hotspots) {
          // Every hotspot is in the frame, and its place belongs to its peak.
          expect(peakPx[0]).toBeLessThan(r.width);
          expect(peakPx[1]).toBeLessThan(r.height);
          expect(sourcePx[0]).toBeGreaterThan(-1);
          expect(sourcePx[0]).toBeLessThan(r.width);
          expect(sourcePx[1]).toBeGreaterThan(-1);
          expect(sourcePx[1]).toBeLessThan(r.height);
          expect(sourceSigmaPx).toBeGreaterThan(0);
        }
      }),
      { numRuns: 60, seed: 20251 },
    );
  });

  it("frames against themselves: nothing hot", () => {
    fc.assert(
      fc.property(recipe, (r) => {
        const { powered } = framesOf(r);
        let findings: Findings;
        try {
          findings = findHotspots({ baseline: powered, powered });
        } catch (error) {
          expect(error).toBeInstanceOf(ToolError);
          return;
        }
        expect(findings.hotspots).toEqual([]);
      }),
      { numRuns: 25, seed: 20252 },
    );
  });
});
