import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { comparisonSchema } from "../../../src/compare/comparison-schema.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import type { BoardIdentity } from "../../../src/findings/parts-schema.js";
import { makeFindings, withoutBoard } from "./make-findings.js";

const C6 = { ref: "C6", powerW: 0.24 };
const U1 = { ref: "U1", powerW: 0.12 };
const part = (comparison: ReturnType<typeof compareFindings>, ref: string) =>
  comparison.parts.find((one) => one.ref === ref);
const codes = (comparison: ReturnType<typeof compareFindings>) => comparison.notes.map(({ code }) => code);

describe("compareFindings", () => {
  it("finds the same heat again from another place of the camera, watts per watt fed in beside it", () => {
    const before = makeFindings({ heat: [C6, U1], volts: 3.7, amps: 0.2 });
    const after = makeFindings({
      heat: [
        { ...U1, powerW: 0.06 },
        { ...C6, powerW: 0.12, offMm: [0.1, -0.05] },
      ],
      volts: 3.7,
      amps: 0.1,
      pixelOf: ([x, y]) => [140 - 2 * y, 2.2 * x + 1],
    });
    const found = compareFindings(before, after);
    expect(comparisonSchema.parse(JSON.parse(JSON.stringify(found)))).toEqual(found);
    const c6 = part(found, "C6")!;
    expect(c6.change).toBe("persisted");
    expect(c6.hotspots).toEqual([1, 2]);
    expect(c6.powerW).toEqual([0.24, 0.12]);
    // 0.24 W of 0.74 W, then 0.12 W of 0.37 W.
    expect(c6.perWatt.map((share) => share!.toFixed(4))).toEqual(["0.3243", "0.3243"]);
    expect(c6.z).toBeCloseTo(0, 6);
    expect(found.division).toMatchObject({ by: "fed", factor: 0.5 });
    expect(found.hotspots[0]).toMatchObject({ before: 1, after: 2, change: "persisted", ref: "C6" });
    expect(found.hotspots[0]!.distanceMm).toBeCloseTo(Math.hypot(0.1, 0.05), 9);
    expect(codes(found)).toEqual(["N_POWER_DIVIDED", "N_TIME_ASSUMED"]);
    expect(found.verdict).toBe("The heat at C6 is still there.");
  });

  it("calls heat hotter or cooler where it differs beyond the noise per watt fed in", () => {
    const before = makeFindings({ heat: [C6] });
    const hotter = compareFindings(before, makeFindings({ heat: [{ ...C6, powerW: 0.72 }] }));
    expect(part(hotter, "C6")).toMatchObject({ change: "hotter" });
    expect(part(hotter, "C6")!.logRatio).toBeCloseTo(Math.log(3), 6);
    expect(hotter.verdict).toContain("still there, and stronger");
    const fed = compareFindings(before, makeFindings({ heat: [{ ...C6, powerW: 0.72 }], amps: 0.6 }));
    expect(part(fed, "C6")).toMatchObject({ change: "persisted" });
    const cooler = compareFindings(before, makeFindings({ heat: [C6], amps: 0.8 }));
    expect(part(cooler, "C6")).toMatchObject({ change: "cooler" });
  });

  it("calls heat gone only where the later attempt would have seen it", () => {
    const before = makeFindings({ heat: [C6] });
    expect(part(compareFindings(before, makeFindings()), "C6")).toMatchObject({
      change: "gone",
      powerW: [0.24, null],
    });
    const blind = compareFindings(before, makeFindings({ limitK: 2.2, limitW: 0.2 }));
    // Its largest rise is known to be small all the same, as long as that is not missing too.
    expect(part(blind, "C6")!.change).toBe("gone");
    const blinder = makeFindings({ limitK: 2.2, limitW: 0.2 });
    Object.assign(blinder.parts!.find(({ ref }) => ref === "C6")!, { riseK: null, contrastSigmaK: 1.5 });
    expect(part(compareFindings(before, blinder), "C6")!.change).toBe("unsure");
  });

  it("asks whether the later attempt had power enough to show it", () => {
    const before = makeFindings({ heat: [{ ...C6, powerW: 0.06 }], volts: 3.7, amps: 0.2 });
    // A tenth of the volts, a hundredth of the power: the part may heat as before and not show.
    const faint = compareFindings(before, makeFindings({ volts: 0.37, amps: 0.02 }));
    expect(part(faint, "C6")!.change).toBe("unsure");
    // The same volts and hardly any amps: a part that still conducts would take what it took.
    const open = compareFindings(before, makeFindings({ volts: 3.7, amps: 0.002 }));
    expect(part(open, "C6")!.change).toBe("gone");
  });

  it("leaves what an attempt does not see unsure, whichever attempt it is", () => {
    const top = makeFindings({ heat: [C6] });
    const bottom = makeFindings({ sides: ["bottom"] });
    const lost = compareFindings(top, bottom);
    expect(part(lost, "C6")).toMatchObject({ change: "unsure", seen: [true, false], z: null });
    expect(lost.hotspots[0]!.change).toBe("unsure");
    expect(codes(lost)).toContain("N_OTHER_SIDE_SEEN");
    expect(lost.verdict).toContain("not sure");
    expect(part(compareFindings(bottom, top), "C6")).toMatchObject({ change: "unsure" });
    // Heat that shows through the board is still heat, but of an unseen part nothing is certain.
    const through = compareFindings(top, makeFindings({ sides: ["bottom"], heat: [{ ...C6, powerW: 0.2 }] }));
    expect(part(through, "C6")!.change).toBe("unsure");
    expect(through.hotspots[0]!.change).toBe("persisted");
  });

  it("doubts what may have been a mirror, or a slip beside stronger heat", () => {
    const mirror = { ...C6, flags: ["possibleReflection"], probability: 0.7 };
    expect(part(compareFindings(makeFindings({ heat: [mirror] }), makeFindings()), "C6")!.change).toBe(
      "unsure",
    );
    const strong = { ref: "U6", powerW: 2 };
    const slip = { ref: "R4", powerW: 0.02, contrastK: 0.05 };
    const found = compareFindings(makeFindings({ heat: [strong] }), makeFindings({ heat: [strong, slip] }));
    expect(part(found, "R4")).toMatchObject({ change: "unsure" });
    expect(part(found, "R4")!.why).toContain("slip");
  });

  it("does not take what stays for hotter because what went no longer draws power", () => {
    const before = makeFindings({ heat: [{ ...C6, powerW: 0.6 }, U1], amps: 0.4 });
    const after = makeFindings({ heat: [U1], amps: 0.1 });
    const found = compareFindings(before, after);
    expect(part(found, "C6")!.change).toBe("gone");
    expect(part(found, "U1")!.change).toBe("persisted");
    expect(found.verdict).toBe("The heat at C6 is gone; only parts that are normally warm remain (U1).");
  });

  it("divides by the parts that are warm anyway where volts and amps are not known, and tests none by itself", () => {
    const words = { volts: null, amps: null };
    const before = makeFindings({ heat: [C6, U1], ...words });
    const after = makeFindings({
      heat: [
        { ...C6, powerW: 0.48 },
        { ...U1, powerW: 0.24 },
      ],
      ...words,
    });
    const found = compareFindings(before, after);
    expect(found.division).toMatchObject({ by: "warm" });
    expect(found.division.factor).toBeCloseTo(2, 6);
    expect(part(found, "C6")).toMatchObject({ change: "persisted", perWatt: [null, null] });
    expect(part(found, "U1")).toMatchObject({ change: "persisted", z: null });
    const nothing = compareFindings(
      makeFindings({ heat: [C6], ...words }),
      makeFindings({ heat: [{ ...C6, powerW: 0.96 }], ...words }),
    );
    expect(nothing.division).toEqual({ by: "none", factor: 1, logSigma: 0.15 });
    expect(part(nothing, "C6")!.change).toBe("hotter");
    expect(nothing.notes.find(({ code }) => code === "N_POWER_DIVIDED")!.text).toContain("No input power");
  });

  it("widens ratios and says so where heat had spread much farther in one attempt", () => {
    const before = makeFindings({ heat: [C6] });
    const after = makeFindings({ heat: [C6], board: { spread: { state: "steady", lengthMm: 26 } } });
    const found = compareFindings(before, after);
    expect(codes(found)).toContain("N_TIME_DIFFERS");
    const same = compareFindings(before, makeFindings({ heat: [C6] }));
    expect(part(found, "C6")!.logSigma!).toBeGreaterThan(part(same, "C6")!.logSigma!);
  });

  it("says nothing of times that were told alike, and both where they differ", () => {
    const at = (afterS: number, spread: BoardIdentity["spread"] = { state: "rising", lengthMm: 6.8 }) => {
      const made = makeFindings({ heat: [C6], board: { spread } });
      return { ...made, inputs: { ...made.inputs, afterS } };
    };
    const timeNotes = (before: Findings, after: Findings) =>
      compareFindings(before, after).notes.filter(({ code }) => code.startsWith("N_TIME"));
    expect(timeNotes(at(20), at(24))).toEqual([]);
    expect(timeNotes(at(20), makeFindings({ heat: [C6] })).map(({ code }) => code)).toEqual([
      "N_TIME_ASSUMED",
    ]);
    expect(timeNotes(at(20), at(95)).map(({ text }) => text)).toEqual([
      "Frames were taken 20 s and 95 s after power-on: watts count that in, rises don't. Wait as long in each attempt.",
    ]);
    // What the fits found does not go with that: ratios are wider all the same.
    const [odd] = timeNotes(at(20), at(20, { state: "steady", lengthMm: 26 }));
    expect(odd).toMatchObject({ code: "N_TIME_DIFFERS", text: expect.stringContaining("Check both times.") });
  });

  it("matches heat by place alone where the supply was switched in one attempt and not in the other", () => {
    const before = makeFindings({ heat: [C6, { ref: "U6", powerW: 0.3 }] });
    const switched = makeFindings({ heat: [{ ...C6, powerW: 0.002 }] });
    switched.cycle = {
      ...{ periodS: 4, frames: 200, phaseDeg: 30, pValue: 1e-6, amplitudeSigmaK: 0.004 },
      hotspots: [],
    };
    const found = compareFindings(before, switched);
    expect(codes(found)).toContain("N_CYCLE_COMPARED");
    expect(part(found, "C6")).toMatchObject({ change: "persisted", z: null });
    expect(part(found, "U6")).toMatchObject({ change: "unsure", z: null });
    expect(part(found, "C6")!.why).toContain("switched on and off");
  });

  it("compares switched attempts without a word on time, and by place alone with one whose watts were read otherwise", () => {
    const cycle = {
      periodS: 4,
      frames: 200,
      phaseDeg: 30,
      pValue: 1e-6,
      amplitudeSigmaK: 0.004,
      hotspots: [],
    };
    const switched = (state: "alternating" | "rising", lengthMm: number, powerW: number) => {
      const findings = makeFindings({ heat: [{ ...C6, powerW }], board: { spread: { state, lengthMm } } });
      findings.cycle = cycle;
      return findings;
    };
    const [now, shorter] = [switched("alternating", 3, 0.002), switched("alternating", 0.9, 0.002)];
    const found = compareFindings(now, shorter);
    expect(codes(found).filter((code) => /TIME|CYCLE/.test(code))).toEqual([]);
    expect(part(found, "C6")).toMatchObject({ change: "persisted" });
    const older = compareFindings(switched("rising", 13, 0.0007), now);
    expect(older.notes.find(({ code }) => code === "N_CYCLE_COMPARED")!.text).toContain(
      "analyse its frames again",
    );
    expect(part(older, "C6")).toMatchObject({ change: "persisted", z: null });
  });

  it("goes on with a map that was added to, and leaves the added parts unsure", () => {
    const before = makeFindings({ without: ["U6"] });
    const after = makeFindings({ heat: [{ ref: "U6", powerW: 0.3 }] });
    const found = compareFindings(before, after);
    expect(found.notes.find(({ code }) => code === "N_MAP_CHANGED")!.text).toContain("U6");
    expect(part(found, "U6")).toMatchObject({ change: "unsure", seen: [false, true] });
  });

  it("compares hotspots alone, in pixels, where no board is known", () => {
    const before = withoutBoard(makeFindings({ heat: [C6, { ref: "U6", powerW: 0.3 }] }));
    const after = withoutBoard(
      makeFindings({
        heat: [
          { ref: "U6", powerW: 0.3 },
          { ref: "R4", powerW: 0.4 },
        ],
      }),
    );
    const found = compareFindings(before, after);
    expect(found.parts).toEqual([]);
    expect(found.hotspots.map((spot) => [spot.before, spot.after, spot.change])).toEqual([
      [1, null, "gone"],
      [2, 1, "persisted"],
      [null, 2, "new"],
    ]);
    expect(codes(found)).toEqual(["N_PIXELS_COMPARED"]);
  });

  it("refuses what can't be compared, and says why", () => {
    const plain = makeFindings({ heat: [C6] });
    const other = makeFindings({ board: { outline: "zz", name: "other" } });
    expect(() => compareFindings(plain, other)).toThrow(/E_COMPARE_BOARD.*"meter", then "other"/);
    expect(() => compareFindings(plain, withoutBoard(plain), { afterFile: "b.json" })).toThrow(
      /E_FINDINGS_PARTS.*b\.json/,
    );
    const small = withoutBoard(makeFindings());
    small.inputs.baseline[0]!.width = 80;
    expect(() => compareFindings(withoutBoard(plain), small)).toThrow(/E_COMPARE_FRAME.*160×120 and 80×120/);
    expect(() => compareFindings(plain, plain, { actions: [{ what: "replaced", ref: "C66" }] })).toThrow(
      /E_COMPARE_PART.*replaced, "C66"/,
    );
  });
});

describe("the verdict", () => {
  const replaced = { actions: [{ what: "replaced" as const, ref: "C6" }] };

  it("does not clear a changed part whose heat is still there, and names what lies behind it or shares its net", () => {
    const found = compareFindings(makeFindings({ heat: [C6] }), makeFindings({ heat: [C6] }), replaced);
    expect(found.verdict).toMatch(
      /^C6 was replaced and the heat there is still there: heat alone does not clear it\./,
    );
    expect(found.verdict).toContain("Q3 (lies behind C6)");
    expect(found.lookAt.map(({ ref }) => ref)).toEqual(["Q3", "U2", "R4"]);
    expect(found.lookAt[1]!.why).toBe("shares VSYS with C6");
  });

  it("says that heat moved", () => {
    const after = makeFindings({ heat: [{ ref: "U6", powerW: 0.3 }] });
    expect(compareFindings(makeFindings({ heat: [C6] }), after).verdict).toBe(
      "The heat moved: it is gone at C6 and new at U6.",
    );
    expect(compareFindings(makeFindings({ heat: [C6] }), after, replaced).verdict).toBe(
      "C6 was replaced and the heat at C6 is gone, but it moved: U6 heats now and did not before.",
    );
  });

  it("says that changing another part did not help", () => {
    const found = compareFindings(makeFindings({ heat: [C6] }), makeFindings({ heat: [C6] }), {
      actions: [{ what: "lifted", ref: "R4" }],
    });
    expect(found.verdict).toBe("The heat at C6 is still there: changing R4 did not remove its cause.");
  });

  it("speaks of nothing, of warm parts alone, and of heat that is new", () => {
    expect(compareFindings(makeFindings(), makeFindings()).verdict).toBe("Nothing heats in either attempt.");
    expect(compareFindings(makeFindings({ heat: [U1] }), makeFindings({ heat: [U1] })).verdict).toBe(
      "Only parts that are normally warm heat (U1); no fault shows in either attempt.",
    );
    expect(compareFindings(makeFindings(), makeFindings({ heat: [C6] })).verdict).toBe(
      "C6 heats now and did not before.",
    );
    expect(compareFindings(makeFindings({ heat: [C6] }), makeFindings(), replaced).verdict).toBe(
      "C6 was replaced and the heat at C6 is gone; nothing else heats.",
    );
  });
});

describe("the verdict of a comparison", () => {
  const unnamed = { ref: "C6", powerW: 0.24, probability: 0.2, contrastK: 0.1 };
  const warm = { ref: "U1", powerW: 0.3 };

  it("does not say that only normally warm parts heat where something unnamed does", () => {
    const both = makeFindings({ heat: [unnamed, warm] });
    expect(compareFindings(both, both).verdict).toBe(
      "Something heats, but none of the named parts explains it well in both attempts. Beside it parts heat that are normally warm (U1).",
    );
    const known = makeFindings({ heat: [warm] });
    expect(compareFindings(known, known).verdict).toMatch(/^Only parts that are normally warm heat \(U1\)/);
  });

  it("does not say that nothing else heats where something unnamed does", () => {
    const before = makeFindings({ heat: [{ ref: "R4", powerW: 0.24 }] });
    expect(compareFindings(before, makeFindings()).verdict).toBe(
      "The heat at R4 is gone; nothing else heats.",
    );
    expect(compareFindings(before, makeFindings({ heat: [unnamed] })).verdict).toBe(
      "The heat at R4 is gone; something else heats that none of the named parts explains well.",
    );
  });
});
