import { describe, expect, it } from "vitest";
import { faceChanges } from "../../../src/sources/face-changes.js";
import { BOARD, showRise } from "./relaxed-plate.js";
import { modelOf } from "./small-model.js";

describe("faceChanges", () => {
  it("tells the change of every named face in view against the board around it, and what it would mirror", () => {
    const model = modelOf({
      ...BOARD,
      regions: BOARD.regions.map((region) => (region.ref === "U1" ? { ...region, emissivity: 0.1 } : region)),
    });
    const rise = showRise({}, 0.02, "changes", { U1: 1.2, U2: 0.1 }).data;
    const changes = faceChanges(model, rise, new Float32Array(rise.length), 0.02);
    expect(changes).toHaveLength(5);
    const [u1, u2, c1] = changes;
    expect(Math.abs(u1!.changeK - 1.2)).toBeLessThan(0.1);
    expect(Math.abs(u2!.changeK - 0.1)).toBeLessThan(4 * u2!.sigmaK + 0.01);
    expect(u1!.share).toBeGreaterThan(5 * u2!.share);
    // A small face has fewer pixels.
    expect(c1!.sigmaK).toBeGreaterThan(u2!.sigmaK);
  });
});
