import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { analyse } from "../../../src/findings/analyse.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const attempt = makeAttempt({ watts: { U2: 0.06 }, seed: "true rise" });
const hottest = (change: Partial<BoardMap["regions"][number]>, own = BOARD) => {
  const regions = own.regions.map((region) => (region.ref === "U2" ? { ...region, ...change } : region));
  return analyse({ ...attempt, board: { ...own, regions }, view: VIEW }).findings.hotspots[0]!;
};

describe("the true rise of a hotspot", () => {
  it("is the apparent one ÷ the emissivity of the part seen there, to half a per cent at a few kelvin", () => {
    const { peakRiseK, trueRiseK } = hottest({});
    // A moulded part: 0.93. In the band radiance the quotient is lower by 0.04 % per kelvin at ε = 0.9 (10 K show as
    // 9.0386 K).
    expect(trueRiseK! / peakRiseK).toBeCloseTo(1 / 0.93, 2);
    expect(trueRiseK!).toBeGreaterThan(peakRiseK);
    const painted = hottest({ emissivity: 0.7 });
    expect(painted.trueRiseK! / painted.peakRiseK).toBeGreaterThan(1.38);
    expect(painted.trueRiseK! / painted.peakRiseK).toBeLessThan(1.46);
  });

  it("is not known where the map does not state the finish", () => {
    const { ref, side, polygon } = BOARD.regions.find((region) => region.ref === "U2")!;
    const bare = {
      ...BOARD,
      regions: BOARD.regions.map((r) => (r.ref === "U2" ? { ref, side, polygon } : r)),
    };
    expect(hottest({}, bare).trueRiseK).toBeNull();
  });

  it("nor without a board", () => {
    const hot = makeAttempt({ watts: { C1: 0.3 }, seed: "no board" });
    expect(analyse(hot).findings.hotspots[0]!.trueRiseK).toBeNull();
  });
});
