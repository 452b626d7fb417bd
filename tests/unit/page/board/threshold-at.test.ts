import { describe, expect, it } from "vitest";
import { thresholdAt } from "../../../../src/page/board/threshold-at.js";
import { falseAlarmThreshold } from "../../../../src/rise/false-alarm-threshold.js";

describe("thresholdAt", () => {
  const [resels, tail, own] = [431, 2.5, 0.01];
  const noise = { sigmaK: 0.1, testedSigmaK: 0.06 };
  const sigma = falseAlarmThreshold(resels, own, tail);
  const findings = { noise, threshold: { riseK: sigma * noise.testedSigmaK, falseAlarmsPerFrame: own } };

  it("is the findings' own at their own rate, to the last digit", () => {
    expect(thresholdAt(findings, own).riseK).toBe(findings.threshold.riseK);
  });

  it.each([1e-3, 0.1, 1])(
    "is what the engine gives for %d false alarms, without being told of resels and tails",
    (rate) => {
      const found = thresholdAt(findings, rate);
      // The engine's search halves an interval of 37.5 sigma sixty times: beyond double precision.
      expect(found.sigma).toBeCloseTo(falseAlarmThreshold(resels, rate, tail), 9);
      expect(found.riseK).toBeCloseTo(found.sigma * 0.06, 12);
    },
  );

  it("falls as more false alarms are allowed", () => {
    const sigmas = [1e-3, 1e-2, 0.1, 1].map((rate) => thresholdAt(findings, rate).sigma);
    expect([...sigmas].sort((a, b) => b - a)).toEqual(sigmas);
  });
});
