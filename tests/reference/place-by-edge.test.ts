import { describe, expect, it } from "vitest";
import { createRaster } from "../../src/core/raster.js";
import { findHotspots } from "../../src/findings/find-hotspots.js";
import { type Frame, frameFromRaster } from "../../src/frames/frame.js";
import { BOARD, makeAttempt, VIEW } from "../unit/findings/make-attempt.js";
import { besselK0 } from "./bessel.js";

// Method of images: heat that an insulated edge turns back is that of a second source, mirrored in the edge; of a
// rectangle that of a lattice (Carslaw and Jaeger, Conduction of Heat in Solids, 2nd ed. 1959, chapter 14, from
// memory). On a plate that loses heat from both faces the rise at r of P watts is P ÷ (2πκ) · K₀(r ÷ L), L = √(κ ÷ h).
const [KAPPA_W_PER_K, LOSS_W_PER_M2K] = [0.008, 20];
const LENGTH_MM = 1e3 * Math.sqrt(KAPPA_W_PER_K / LOSS_W_PER_M2K);
const [WIDTH_MM, HEIGHT_MM] = [40, 24];
const [PX_PER_MM, LEFT_PX, TOP_PX] = [2.7, 9.3, 14.8];
/** Images this many boards away add less than a thousandth. */
const REACH = 3;
/** Half the width of the part: nearer, its heat is spread. */
const CORE_MM = 0.7;

function riseAt(watts: number, [sx, sy]: readonly [number, number], x: number, y: number): number {
  let sum = 0;
  for (let m = -REACH; m <= REACH; m++)
    for (let n = -REACH; n <= REACH; n++)
      for (const u of [2 * m * WIDTH_MM + sx, 2 * m * WIDTH_MM - sx])
        for (const v of [2 * n * HEIGHT_MM + sy, 2 * n * HEIGHT_MM - sy])
          sum += besselK0(Math.max(CORE_MM, Math.hypot(x - u, y - v)) / LENGTH_MM);
  return (watts / (2 * Math.PI * KAPPA_W_PER_K)) * sum;
}

/** The frame with the heat of a point behind the board, of a mask of emissivity 0.91. */
function heated({ raster }: Frame, watts: number, at: readonly [number, number]): Frame {
  const data = raster.data.map((value, i) => {
    const x = ((i % raster.width) - LEFT_PX) / PX_PER_MM;
    const y = (Math.floor(i / raster.width) - TOP_PX) / PX_PER_MM;
    const onBoard = x >= 0 && y >= 0 && x <= WIDTH_MM && y <= HEIGHT_MM;
    return onBoard ? value + 0.91 * riseAt(watts, at, x, y) : value;
  });
  return frameFromRaster(createRaster("degC", raster.width, raster.height, data));
}

describe("a part behind the board, close to an insulated edge", () => {
  it.each([
    [38, 11],
    [38.2, 2.4],
    [3, 12],
    [16, 22.2],
  ] as const)("at %f, %f mm: its place, on the part and within three of the stated sigma", (x, y) => {
    const part = { ref: "L9", side: "bottom" as const, kind: "passive" as const };
    const [u, v] = [0.7, 0.5];
    const polygon = [
      [x - u, y - v],
      [x + u, y - v],
      [x + u, y + v],
      [x - u, y + v],
    ] as [number, number][];
    const board = { ...BOARD, regions: [...BOARD.regions, { ...part, polygon }] };
    const { baseline, powered } = makeAttempt({ noiseK: 0.03, seed: `edge ${x}` });
    const frames = powered.map((frame) => heated(frame, 0.15, [x, y]));
    const { hotspots, suspects } = findHotspots({ baseline, powered: frames, board, view: VIEW });
    expect(suspects[0]?.ref).toBe("L9");
    const { sourceMm, sourceSigmaMm } = hotspots[0]!;
    const offMm = Math.hypot(sourceMm![0] - x, sourceMm![1] - y);
    expect(offMm).toBeLessThan(3 * Math.SQRT2 * sourceSigmaMm!);
    // And on the part itself, which spans u and v to either side of its middle.
    expect(Math.abs(sourceMm![0] - x)).toBeLessThan(u);
    expect(Math.abs(sourceMm![1] - y)).toBeLessThan(v);
  });
});
