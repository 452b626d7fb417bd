import { describe, expect, it } from "vitest";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import { makeFindings } from "./make-findings.js";

const why = (watts: readonly [number, number], amps: readonly [number | null, number | null]) => {
  const [before, after] = watts.map((powerW, k) =>
    makeFindings({
      heat: [{ ref: "C6", powerW }],
      volts: amps[k] === null ? null : 3.7,
      amps: amps[k]!,
    }),
  );
  // The watts of the fit alone, as another state of the plate would tell them; the face stays as it was.
  const doubled = {
    ...after!,
    parts: after!.parts!.map((part) => (part.ref === "C6" ? { ...part, powerW: 2 * part.powerW! } : part)),
    hotspots: after!.hotspots.map((hotspot) => ({ ...hotspot, powerW: 2 * hotspot.powerW! })),
  };
  // Those that the attempt tells, held against what was fed in.
  const told = {
    ...after!,
    hotspots: after!.hotspots.map((hotspot) => ({ ...hotspot, powerW: 1.2 * hotspot.powerW! })),
  };
  return {
    same: compareFindings(before!, after!).parts.find(({ ref }) => ref === "C6")!.why,
    beside: compareFindings(before!, told).parts.find(({ ref }) => ref === "C6")!,
    apart: compareFindings(before!, doubled).parts.find(({ ref }) => ref === "C6")!.why,
  };
};

describe("sayChange", () => {
  it("says what a ratio is of, and nothing of watts that say the same", () => {
    expect(why([0.2, 0.1], [0.2, 0.1]).same).toMatch(
      /^For each watt fed in it heats 1\.0 times as much as before, known to a factor of [\d.]+\.$/,
    );
    expect(why([0.2, 0.2], [null, null]).same).toMatch(/^It heats 1\.0 times as much as before/);
  });

  it("says what watts beside it would say where they say a little else", () => {
    const { beside } = why([0.2, 0.2], [0.1, 0.1]);
    expect(beside.powerW).toEqual([0.2, 0.24]);
    expect(beside.perWatt[1]! / beside.perWatt[0]!).toBeCloseTo(1.2, 12);
    expect(beside.why).toMatch(
      /heats 1\.0 times as much as before, .* Its watts alone would say 1\.2 times; how much it stands out of the board around it is heard beside them\.$/,
    );
  });

  it("says why watts beside it say another one", () => {
    expect(why([0.2, 0.2], [0.1, 0.1]).apart).toMatch(
      /^For each watt fed in it heats 1\.\d times as much as before, .* Its watts alone would say 2\.0 times; they hang on what was fed in and on how far heat had spread/,
    );
  });

  it("leaves out watts that what was fed in forbids, and says so", () => {
    const [before, after] = [[], ["exceedsFeed"]].map((flags) =>
      makeFindings({ heat: [{ ref: "C6", powerW: 0.2, flags }], amps: 0.2 }),
    );
    const part = compareFindings(before!, after!).parts.find(({ ref }) => ref === "C6")!;
    expect(part.powerW).toEqual([0.2, null]);
    expect(part.perWatt[1]).toBeNull();
    expect(part.why).toMatch(
      /^For each watt .* Its watts in the later attempt are left out: the frames show more/,
    );
    expect(compareFindings(before!, before!).parts[0]!.why).not.toContain("left out");
  });
});
