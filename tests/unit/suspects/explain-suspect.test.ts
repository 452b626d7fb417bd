import { describe, expect, it } from "vitest";
import { explainSuspect, type SuspectEvidence } from "../../../src/suspects/explain-suspect.js";

const PLAIN: SuspectEvidence = {
  ref: "U7",
  powerW: 0.241,
  powerSigmaW: 0.032,
  peakRiseK: 6.1,
  evidence: 900,
  distanceMm: 0,
  sigmaMm: 0.11,
  farSide: false,
  bodyShare: 0.3,
  normallyWarm: false,
  runnerUp: null,
  shiny: false,
};
const say = (change: Partial<SuspectEvidence>) => explainSuspect({ ...PLAIN, ...change });

/** Lines that a person can read. */
function expectPlain(lines: readonly string[]): void {
  expect(lines.length).toBeGreaterThan(0);
  for (const line of lines) {
    expect(line).toMatch(/^\S.*\.$/);
    expect(line).not.toMatch(/NaN|undefined|null|Infinity|\[object|e[+-]\d/);
  }
}

describe("explainSuspect", () => {
  it("a plain case: where, how many watts, the body", () => {
    const lines = say({});
    expectPlain(lines);
    expect(lines[0]).toContain("lies on this part");
    expect(lines[0]).toContain("± 0.11 mm");
    expect(lines.join(" ")).toMatch(/0\.241\s±\s0\.032\sW/);
    expect(lines.join(" ")).toContain("body is warmer");
    expect(lines.join(" ")).not.toContain("Against");
  });

  it("beside the part: the distance in mm, finer where it is small", () => {
    expect(say({ distanceMm: 0.372 })[0]).toContain("0.37 mm from this part's edge");
    expect(say({ distanceMm: 4.26 })[0]).toContain("4.3 mm from this part's edge");
  });

  it("heat without a peak of its own", () => {
    for (const change of [{ distanceMm: null }, { sigmaMm: null }]) {
      const lines = say(change);
      expectPlain(lines);
      expect(lines[0]).toContain("no peak of its own");
    }
  });

  it("from the other side, the body says nothing", () => {
    const lines = say({ farSide: true, bodyShare: 0 });
    expectPlain(lines);
    expect(lines.join(" ")).toContain("through the board");
    expect(lines.join(" ")).not.toMatch(/body/);
  });

  it("against: a cool body, a shiny finish", () => {
    const lines = say({ bodyShare: 0, shiny: true });
    expectPlain(lines);
    expect(lines.filter((line) => line.startsWith("Against"))).toHaveLength(2);
  });

  it("the runner-up, by how much less likely; not where it is hopeless", () => {
    expect(say({ runnerUp: { ref: "C12", odds: 1.2 } }).join(" ")).toContain(
      "C12 would explain the frames too, about as well",
    );
    expect(say({ runnerUp: { ref: "C12", odds: 14.6 } }).join(" ")).toContain("15 times less likely");
    for (const odds of [1e6, Number.POSITIVE_INFINITY, Number.NaN]) {
      expect(say({ runnerUp: { ref: "C12", odds } }).join(" ")).not.toContain("C12");
    }
  });

  it("a runner-up that is even likelier is not said to be less likely", () => {
    const lines = say({ runnerUp: { ref: "C12", odds: 0.2 } });
    expectPlain(lines);
    expect(lines.join(" ")).not.toContain("times less likely");
  });

  it("normally warm: said, and that it is not counted", () => {
    expect(say({ normallyWarm: true }).join(" ")).toContain("not counted as a fault");
  });

  it.each([0, 1e-7, 0.00023, 0.0456, 0.8, 3, 12.5, 99.6, 150])(
    "watts of any size are readable: %f",
    (powerW) => {
      const lines = say({ powerW, powerSigmaW: powerW / 7 });
      expectPlain(lines);
      const said = /([\d.]+)(?: ± [\d.]+)? (m?W) in this part/.exec(lines.join(" "))!;
      const saidW = Number(said[1]) * (said[2] === "mW" ? 1e-3 : 1);
      // As many digits as an uncertainty of a seventh allows: off by less than a third of that.
      expect(Math.abs(saidW - powerW)).toBeLessThanOrEqual(powerW / 7 / 3 + 1e-12);
    },
  );
});
