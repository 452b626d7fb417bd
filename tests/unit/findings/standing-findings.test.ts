import { describe, expect, it } from "vitest";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { standingFindings } from "../../../src/findings/standing-findings.js";

const hotspot = (rank: number, flags: readonly string[]) =>
  ({ rank, flags }) as unknown as Findings["hotspots"][number];
const suspect = (ref: string, rank: number | null) =>
  ({ ref, hotspot: rank }) as unknown as Findings["suspects"][number];

describe("standingFindings", () => {
  it("leaves out what may not heat, with its suspect", () => {
    const all = {
      hotspots: [hotspot(1, ["weakAlignment"]), hotspot(2, ["besideHeat", "outlineEdge"])],
      suspects: [suspect("U4", 1), suspect("C6", 2), suspect("C7", null)],
    };
    const stands = standingFindings(all);
    expect(stands.hotspots.map(({ rank }) => rank)).toEqual([1]);
    expect(stands.suspects.map(({ ref }) => ref)).toEqual(["U4", "C7"]);
    expect(all.hotspots).toHaveLength(2);
  });

  it("gives the findings themselves where all of it stands", () => {
    const all = { hotspots: [hotspot(1, ["possibleReflection"])], suspects: [suspect("U4", 1)] };
    expect(standingFindings(all)).toBe(all);
  });
});
