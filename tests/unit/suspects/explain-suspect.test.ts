import { describe, expect, it } from "vitest";
import { explainSuspect, type SuspectEvidence } from "../../../src/suspects/explain-suspect.js";
import { PLAIN } from "./plain-evidence.js";

const say = (change: Partial<SuspectEvidence>) => explainSuspect({ ...PLAIN, ...change });

const against = (change: Partial<SuspectEvidence>) =>
  say(change).filter((line) => line.startsWith("Against: "));

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
    expect(against({ distanceMm: 0.372 })[0]).toContain("0.37 mm from this part's edge");
    expect(against({ distanceMm: 4.26 })[0]).toContain("4.3 mm from this part's edge");
    // Within twice its uncertainty it may lie on the part: no word against.
    expect(against({ distanceMm: 0.2 })).toEqual([]);
    expect(say({ distanceMm: 0.2 })[0]).toMatch(/^The centre of the heat lies 0\.20 mm/);
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

  it("against: a body that is no warmer than the board", () => {
    expect(against({ bodyShare: 0 })).toEqual(["Against: its body is no warmer than the board around it."]);
  });

  it("against: a shiny finish, of whose body nothing is claimed", () => {
    const lines = against({ bodyShare: 0, shiny: true, emissivity: 0.1 });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toContain("shiny (emissivity 0.10)");
    expect(say({ shiny: true, bodyShare: 0.4 }).join(" ")).not.toMatch(/body is/);
  });

  it("lines for come before lines against", () => {
    const lines = say({ bodyShare: 0, mirrorChance: 0.3, evidence: 30, runnerUp: { ref: "C12", odds: 1.2 } });
    const places = lines.flatMap((line, k) => (line.startsWith("Against") ? [k] : []));
    expect(places).toEqual([places[0], places[0]! + 1, places[0]! + 2, places[0]! + 3]);
    expect(places[0]).toBeGreaterThan(0);
  });

  it.each([
    [600, "very strong"],
    [500, "very strong"],
    [130, "strong"],
    [60, "fair"],
  ])("evidence of %f is %s, where 25 would count", (evidence, word) => {
    const line = say({ evidence }).find((text) => text.startsWith("The evidence"))!;
    expect(line).toContain(
      `is ${word}: without heat here the frames fit worse by ${evidence} in χ², and 25 would count`,
    );
    expect(against({ evidence })).toEqual([]);
  });

  it("weak evidence speaks against; what counts may be more than usual", () => {
    expect(against({ evidence: 31 })[0]).toContain("the evidence is weak");
    expect(against({ evidence: 130, leastEvidence: 80 })[0]).toContain("80 would count");
  });

  it("watts: their share of what was fed in; against, where they can't be", () => {
    expect(say({ fedW: 0.5 }).join(" ")).toContain("48 % of what was fed in");
    const flags = ["exceedsFeed"];
    expect(against({ fedW: 0.1, flags })[0]).toMatch(
      /: its watts are more than the 0\.100 W that were fed in/,
    );
    expect(against({ fedW: 0.5, flags })[0]).toMatch(
      /with the other sources its watts are more than the 0\.500 W/,
    );
    expect(say({ fedW: 0.5, flags }).join(" ")).not.toContain("% of what was fed in");
    expect(against({ fedW: 0.2 })).toEqual([]);
    for (const fedW of [null, 0.2]) expect(say({ fedW }).join(" ")).not.toContain("fed in");
  });

  it("a reflection, in agreement with the flag", () => {
    expect(against({ mirrorChance: 0.05 })).toEqual([]);
    expect(against({ mirrorChance: 0.27 })).toEqual(["Against: a reflection can't be ruled out (27 %)."]);
    expect(against({ flags: ["possibleReflection"], mirrorChance: 0.12 })[0]).toContain("(12 %)");
    expect(against({ mirrorChance: 0.27, finishStated: false })[1]).toContain("does not state its finish");
    expect(against({ mirrorChance: 0.05, finishStated: false })).toEqual([]);
  });

  it("the other flags: alignment, frame edge, saturation", () => {
    expect(against({ flags: ["weakAlignment"] })[0]).toContain("could not be aligned");
    expect(against({ flags: ["frameEdge"] })[0]).toContain("cut by the frame's edge");
    expect(say({ flags: ["saturated"] }).join(" ")).toContain("lower bounds");
    expect(against({ flags: ["saturated"] })).toEqual([]);
  });

  it("onset: first speaks for, later against, alone is told", () => {
    expect(say({ onsetS: 0.83 }).join(" ")).toContain("began to warm 0.83 s after power-on.");
    expect(say({ onsetS: 0.83, othersOnsetS: 2.1 }).join(" ")).toContain("before the next part (2.1 s)");
    expect(against({ onsetS: 2.1, othersOnsetS: 0.83 })[0]).toContain("another part before it (0.83 s)");
    expect(say({ onsetS: null, othersOnsetS: 0.83 }).join(" ")).not.toContain("began");
  });

  it("a net that it shares with another suspect", () => {
    const line = say({ sharedNet: { ref: "C12", net: "VSYS" } }).at(-1)!;
    expect(line).toBe("It shares the net VSYS with C12: a reading there can't tell the two apart.");
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
    expect(lines.join(" ")).toContain("Against: C12 explains the frames better, by odds of 5.0 to 1.");
    expect(lines.join(" ")).toContain("nearly as the frames show");
    expect(against({ runnerUp: { ref: "C12", odds: 1e-12 } })[0]).toContain("better by far");
  });

  it("a runner-up far behind speaks for, one close by against", () => {
    expect(against({ runnerUp: { ref: "C12", odds: 14.6 } })).toEqual([]);
    expect(against({ runnerUp: { ref: "C12", odds: 2.2 } })[0]).toContain("2.2 times less likely");
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
