import { describe, expect, it } from "vitest";
import { thresholdAt } from "../../../../src/page/board/threshold-at.js";
import { falseAlarmThreshold } from "../../../../src/rise/false-alarm-threshold.js";
import { CONTRAST_DEFAULTS } from "../../../../src/rise/local-contrast.js";

describe("thresholdAt", () => {
  const [pixels, tailFactor, own] = [160 * 120, 3, 0.01];
  // Area ÷ FWHM² of what smoothing by σ and by 2 σ leaves of white noise, summed over the sizes: see `reselsOf`.
  const resels = CONTRAST_DEFAULTS.scalesPx.reduce(
    (sum, sigma) => sum + (pixels * 0.825) / (4 * Math.LN2 * sigma ** 2),
    0,
  );
  const engine = (rate: number): number => falseAlarmThreshold(resels, rate, tailFactor);
  // The peak of a smallest spot, or what a mirrored room may make.
  const findings = {
    options: { tailFactor },
    cycle: null,
    threshold: { riseK: 0.262, falseAlarmsPerFrame: own, powerW: null },
  };
  const at = (rate: number) => thresholdAt(findings, pixels, rate);

  it("is the findings' own at their own rate, to the last digit", () => {
    expect(at(own).riseK).toBe(0.262);
    expect(at(own).placeSigma).toBeCloseTo(engine(own), 9);
  });

  it.each([1e-3, 0.1, 1, 10])("counts places at %d false alarms a frame as the engine does", (rate) => {
    expect(at(rate).placeSigma).toBeCloseTo(engine(rate), 9);
    expect(at(rate).riseK / 0.262).toBeCloseTo(engine(rate) / engine(own), 9);
  });

  it("falls as more false alarms are allowed, by as much as is seen", () => {
    const rises = [1e-3, 1e-2, 0.1, 1, 10].map((rate) => at(rate).riseK);
    expect([...rises].sort((a, b) => b - a)).toEqual(rises);
    expect(rises[4]! / rises[0]!).toBeLessThan(0.75);
  });
});
