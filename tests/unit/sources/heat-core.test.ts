import { describe, expect, it } from "vitest";
import { boundsOf } from "../../../src/board/polygon.js";
import { heatCore } from "../../../src/sources/heat-core.js";
import { mirrorOf } from "../../../src/sources/recast-candidate.js";
import { modelOf, partOf } from "./small-model.js";

describe("the middle of a part", () => {
  const model = modelOf();
  const part = partOf(model, "U1");
  const core = heatCore(model.grid, part)!;

  it("is half as wide and high, around the same centre, and takes one watt", () => {
    const [all, middle] = [boundsOf(part.polygon), boundsOf(core.polygon)];
    expect(middle.maxX - middle.minX).toBeCloseTo(0.5 * (all.maxX - all.minX), 9);
    expect(middle.maxY - middle.minY).toBeCloseTo(0.5 * (all.maxY - all.minY), 9);
    expect(middle.minX + middle.maxX).toBeCloseTo(all.minX + all.maxX, 9);
    expect(core.footprint.shares.reduce((sum, one) => sum + one, 0)).toBeCloseTo(1, 9);
    expect(core.footprint.unknowns.length).toBeLessThan(part.footprint.unknowns.length);
  });

  it("heats, and its face shows nothing", () => {
    expect(core.kind).toBe("heat");
    expect(core.body).toBeNull();
  });

  it("is none of a mirror, nor of a place that no region names", () => {
    expect(heatCore(model.grid, mirrorOf(part))).toBeNull();
    expect(heatCore(model.grid, { ...part, region: -1 })).toBeNull();
  });
});
