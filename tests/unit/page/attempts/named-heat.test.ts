// What an attempt's card says of its heat.
import { describe, expect, it } from "vitest";
import type { Findings } from "../../../../src/findings/findings-schema.js";
import { namedHeat } from "../../../../src/page/attempts/named-heat.js";

/** Findings with so many hotspots, and suspects as [name, rank of the hotspot, chance; 0: warm anyway]. */
function words(hotspots: number, ...suspects: readonly (readonly [string, number, number])[]): string {
  return namedHeat({
    hotspots: Array.from({ length: hotspots }, (_, k) => ({ rank: k + 1 })),
    suspects: suspects.map(([ref, hotspot, probability]) => ({
      ref,
      hotspot,
      probability,
      normallyWarm: probability === 0,
    })),
  } as unknown as Findings);
}

describe("namedHeat", () => {
  it("names the first part that is not normally warm", () => {
    expect(words(2, ["C6", 1, 0.97], ["U2", 2, 0])).toBe("C6 97 %");
  });

  it("says so where all heat is that of a healthy board", () => {
    expect(words(0)).toBe("Nothing that is not normally warm.");
    expect(words(2, ["U1", 2, 0], ["U2", 1, 0])).toBe("Nothing that is not normally warm.");
  });

  it("calls heat without a name heat, beside parts that are warm anyway, too", () => {
    expect(words(1)).toBe("Heat, and no part named.");
    expect(words(2, ["U2", 1, 0])).toBe("Heat, and no part named.");
  });
});
