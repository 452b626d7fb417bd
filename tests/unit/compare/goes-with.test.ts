import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import type { Change } from "../../../src/compare/comparison-schema.js";
import { leaveFollowers } from "../../../src/compare/goes-with.js";
import type { JudgedHeat } from "../../../src/compare/judge-heat.js";
import type { PartHeat } from "../../../src/compare/name-part-heat.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { makeFindings } from "./make-findings.js";

const UNMATCHED = { before: null, after: null, distance: null, sigma: null, shared: 0, overlap: 0 };

type Watts = Readonly<Record<string, number>>;

/** Each of these heats; C6 and R4, or C6 and U1, lie so close to each other. */
function attempt(watts: Watts, gapMm: number, amps: number): Findings {
  const heat = Object.entries(watts).map(([ref, powerW]) => ({ ref, powerW }));
  const findings = makeFindings({ heat, amps });
  const at = { C6: 10, R4: 12 + gapMm, U1: 12 + gapMm } as Readonly<Record<string, number>>;
  const parts = findings.parts!.map((part) => {
    const x = at[part.ref];
    const boundsMm = x === undefined ? part.boundsMm : ([x, 5, x + 2, 6] as [number, number, number, number]);
    return {
      ...part,
      boundsMm,
      triedW: part.powerW ?? 1e-4,
      triedSigmaW: 1e-3,
      triedEvidence: part.powerW === null ? 0 : 300,
    };
  });
  return { ...findings, parts };
}

function told(before: Watts, after: Watts, gapMm = 1.5) {
  const comparison = compareFindings(attempt(before, gapMm, 0.2), attempt(after, gapMm, 0.2));
  const part = (ref: string) => comparison.parts.find((one) => one.ref === ref);
  return { part, verdict: comparison.verdict };
}

describe("heat close beside a fault that changed", () => {
  it("is unsure where its watts went with those of the fault, which may be their source", () => {
    const { part, verdict } = told({ C6: 0.5, R4: 0.2, U6: 0.3 }, { C6: 0.1, R4: 0.04, U6: 0.3 });
    expect(part("C6")).toMatchObject({ change: "cooler", orElse: ["R4"] });
    expect(part("R4")).toMatchObject({ change: "unsure", goesWith: "C6" });
    expect(part("R4")!.why).toContain("It goes along with C6");
    expect(verdict).toBe("The heat at C6 (or R4) and U6 is still there, but weaker.");
  });

  it("is unsure where it went altogether", () => {
    expect(told({ C6: 0.5, R4: 0.2, U6: 0.3 }, { C6: 0.1, U6: 0.3 }).part("R4")!.change).toBe("unsure");
  });

  it("is told as it is where it lies farther off, is the stronger one, or keeps to the power", () => {
    const far = told({ C6: 0.5, R4: 0.2, U6: 0.3 }, { C6: 0.1, R4: 0.04, U6: 0.3 }, 2.1);
    expect(far.part("R4")).toMatchObject({ change: "cooler" });
    expect(far.part("C6")!.orElse).toEqual([]);
    const stronger = told({ C6: 0.2, R4: 0.3, U6: 0.3 }, { C6: 0.04, R4: 0.05, U6: 0.3 });
    expect([stronger.part("R4")!.change, stronger.part("C6")!.change]).toEqual(["cooler", "unsure"]);
    const kept = told({ C6: 0.5, R4: 0.2, U6: 0.3 }, { C6: 0.1, R4: 0.19, U6: 0.3 });
    expect(kept.part("R4")!.change).toBe("persisted");
  });

  it("is unsure of a normally warm part only if that changed as the fault did", () => {
    const along = told({ C6: 0.1, U1: 0.15, U6: 0.3 }, { C6: 0.5, U1: 0.7, U6: 0.3 });
    expect(along.part("U1")!.change).toBe("unsure");
    const kept = told({ C6: 0.1, U1: 0.15, U6: 0.3 }, { C6: 0.5, U1: 0.17, U6: 0.3 });
    expect(kept.part("U1")!.change).toBe("persisted");
  });

  it("is unsure where a fault that is gone hid what only its face shows, whichever attempt came first", () => {
    // R4 has a hotspot later alone; earlier the fit gives it a seventh of C6's watts beside C6.
    const behind = (gapMm: number, restW = 0.07): [Findings, Findings] => {
      const first = attempt({ C6: 0.5, U6: 0.3 }, gapMm, 0.2);
      const parts = first.parts!.map((part) =>
        part.ref === "R4"
          ? { ...part, triedW: restW, triedEvidence: 80, contrastK: 1, contrastSigmaK: 0.02 }
          : part,
      );
      return [{ ...first, parts }, attempt({ R4: 0.2, U6: 0.3 }, gapMm, 0.2)];
    };
    const r4 = ([before, after]: readonly [Findings, Findings]) =>
      compareFindings(before, after).parts.find(({ ref }) => ref === "R4")!;
    const [before, after] = behind(1.5);
    expect(r4([before, after])).toMatchObject({ change: "unsure", goesWith: "C6" });
    const c6 = compareFindings(before, after).parts.find(({ ref }) => ref === "C6")!;
    expect([c6.change, c6.orElse]).toEqual(["gone", []]);
    expect(r4([before, after]).why).toContain(
      "In the later attempt it heats. In the earlier one C6 heats close beside it",
    );
    expect(r4([after, before])).toMatchObject({ change: "unsure", goesWith: "C6" });
    expect(r4([after, before]).why).toContain(
      "In the earlier attempt it heats. In the later one C6 heats close beside it",
    );
    for (const apart of [behind(2.1), behind(1.5, 0.6)]) expect(r4(apart).goesWith).toBeUndefined();
  });

  it("keeps what the fit alone tells of a part, for that was asked beside the fault", () => {
    const [before, after] = [attempt({ C6: 0.5 }, 1.5, 0.2), attempt({ C6: 0.5 }, 1.5, 0.2)];
    const judged = (ref: string, change: Change, heat: Partial<PartHeat>): JudgedHeat => {
      const partOf = ({ parts }: Findings) => parts!.find((part) => part.ref === ref)!;
      const [a, b] = [partOf(before), partOf(after)];
      const own = { match: UNMATCHED, ref, side: "top" as const, before: a, after: b };
      return {
        heat: { ...own, shown: [true, true], byFit: false, ...heat },
        change,
      } as unknown as JudgedHeat;
    };
    const c6 = judged("C6", "gone", { match: { ...UNMATCHED, before: before.hotspots[0]! } });
    const r4 = (byFit: boolean) => leaveFollowers([c6, judged("R4", "persisted", { byFit })])[1]!;
    expect(r4(false)).toMatchObject({ change: "unsure", goesWith: "C6" });
    expect(r4(true)).toMatchObject({ change: "persisted" });
    expect(r4(true).goesWith).toBeUndefined();
  });
});
