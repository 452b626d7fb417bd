import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { createRaster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { gaussianFilter } from "../../../src/numeric/gaussian-filter.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

/** U2, 7 × 6 mm, is a metal can in this map. */
const SHINY: BoardMap = {
  ...BOARD,
  regions: BOARD.regions.map((region) =>
    region.ref === "U2" ? { ...region, finish: undefined, emissivity: 0.1 } : region,
  ),
};
/** Its edges in the frame: x′ = 2.7·x + 9.3, y′ = 2.7·y + 14.8. */
const CAN = { x0: 9.3 + 2.7 * 23, x1: 9.3 + 2.7 * 30, y0: 14.8 + 2.7 * 13, y1: 14.8 + 2.7 * 19 };

/** How far a pixel lies from the can, px. */
function fromCan(x: number, y: number): number {
  return Math.hypot(Math.max(CAN.x0 - x, 0, x - CAN.x1), Math.max(CAN.y0 - y, 0, y - CAN.y1));
}

/** A pair in which the can shows a change, and the board around it, as far as heat comes in some seconds, another. */
function withCan(canK: number, ringK: number, reachPx: number, seed: string) {
  const { baseline, powered } = makeAttempt({ seed, noiseK: 0.04, driftK: 0 });
  const { width, height } = VIEW.frame;
  const warm = (frame: Frame): Frame => {
    const data = frame.raster.data.map((value, i) => {
      const px = fromCan(i % width, Math.floor(i / width));
      return value + (px === 0 ? canK : ringK * Math.exp(-((px / reachPx) ** 2)));
    });
    return frameFromRaster(createRaster("degC", width, height, data));
  };
  return analyse({ baseline, powered: powered.map(warm), board: SHINY, view: VIEW }).findings;
}

/** Both U1 and U2 are cans here; the frame is veiled around them as one lens does, and U2 has a ring of warm board. */
function withTwoCans(changeK: number, veilShare: number, ringK: number, seed: string) {
  const board: BoardMap = {
    ...SHINY,
    regions: SHINY.regions.map((region) =>
      region.ref === "U1" ? { ...region, finish: undefined, emissivity: 0.1 } : region,
    ),
  };
  const { width, height } = VIEW.frame;
  const edges = board.regions
    .filter(({ emissivity }) => emissivity === 0.1)
    .map(({ polygon }) => polygon.map(([x, y]) => [2.7 * x + 9.3, 2.7 * y + 14.8] as const));
  const shown = new Float32Array(width * height);
  for (let i = 0; i < shown.length; i++) {
    const [x, y] = [i % width, Math.floor(i / width)];
    const inside = edges.some(
      (edge) =>
        x >= Math.min(...edge.map(([u]) => u)) &&
        x <= Math.max(...edge.map(([u]) => u)) &&
        y >= Math.min(...edge.map(([, v]) => v)) &&
        y <= Math.max(...edge.map(([, v]) => v)),
    );
    if (inside) shown[i] = changeK;
  }
  const sharp = gaussianFilter(shown, width, height, 1);
  const veil = gaussianFilter(shown, width, height, 4);
  const { baseline, powered } = makeAttempt({ seed, noiseK: 0.04, driftK: 0 });
  const warm = (frame: Frame): Frame => {
    const data = frame.raster.data.map((value, i) => {
      const px = fromCan(i % width, Math.floor(i / width));
      const seen = (1 - veilShare) * sharp[i]! + veilShare * veil[i]!;
      return value + seen + (px > 0 ? ringK * Math.exp(-px / 5) : 0);
    });
    return frameFromRaster(createRaster("degC", width, height, data));
  };
  return analyse({ baseline, powered: powered.map(warm), board, view: VIEW }).findings;
}

describe("a metal can that is heated", () => {
  it("is told by the ring of warm board around it, though the ring is hardly wider than what a blur leaves", () => {
    const { suspects } = withCan(0.3, 0.6, 5, "ring");
    expect(suspects[0]).toMatchObject({ ref: "U2", normallyWarm: false });
  });

  it("is not, where the ring is what the blur of its own mirrored room makes", () => {
    const { hotspots } = withCan(6, 1, 1.5, "mirrored room");
    expect(hotspots).toEqual([]);
  });

  it.each(["a", "b", "c"])(
    "is told from the veil of the lens by the other can, which has none (%s)",
    (seed) => {
      const { suspects } = withTwoCans(-6, 0, 0.35, `two cans ${seed}`);
      expect(suspects[0]).toMatchObject({ ref: "U2", normallyWarm: false });
    },
  );

  it.each([
    ["r1", 0.3],
    ["r2", 0.26],
  ] as const)(
    "is listed by its rim where the evidence is less than a hidden part's (%s, %f K)",
    (seed, ringK) => {
      const { suspects } = withTwoCans(-6, 0, ringK, `rim ${seed}`);
      expect(suspects[0]).toMatchObject({ ref: "U2", normallyWarm: false });
    },
  );

  it.each([6, -6])("is not, where a lens veils what is around both by four percent of %d K", (changeK) => {
    const { hotspots } = withTwoCans(changeK, 0.04, 0, "veiled");
    expect(hotspots).toEqual([]);
  });
});
