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
/** Where the view lays a point of the board, px. */
const toFrame = ([x, y]: readonly [number, number]) => [2.7 * x + 9.3, 2.7 * y + 14.8] as const;
/** Edges of the can in the frame. */
const [[X0, Y0], [X1, Y1]] = [toFrame([23, 13]), toFrame([30, 19])];

/** How far a pixel lies from the can, px. */
function fromCan(x: number, y: number): number {
  return Math.hypot(Math.max(X0 - x, 0, x - X1), Math.max(Y0 - y, 0, y - Y1));
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
    .map(({ polygon }) => polygon.map(toFrame));
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

  it.each(["veiled", "v2", "v3"])(
    "is not, and warms by no watts, where a lens veils what is around both by six percent of what they show (%s)",
    (seed) => {
      const { hotspots, parts } = withTwoCans(6, 0.06, 0, seed);
      expect(hotspots).toEqual([]);
      // Each can's own halo alone, held to a hundredth, leaves 24 to 49 mW with an evidence of 13 to 31.
      for (const ref of ["U1", "U2"]) {
        const { triedW, triedEvidence } = parts!.find((part) => part.ref === ref)!;
        expect(triedW!).toBeLessThan(0.005);
        expect(triedEvidence!).toBeLessThan(4);
      }
    },
  );
});
