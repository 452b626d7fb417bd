import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { ToolError } from "../../../src/core/errors.js";
import { createRaster } from "../../../src/core/raster.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { type Findings, findingsSchema } from "../../../src/findings/findings-schema.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, badNumbers, makeAttempt, VIEW } from "./make-attempt.js";

function frameOf(width: number, height: number, valueAt: (x: number, y: number) => number): Frame {
  const data = Float32Array.from({ length: width * height }, (_, i) =>
    valueAt(i % width, Math.floor(i / width)),
  );
  return frameFromRaster(createRaster("degC", width, height, data));
}

/** A board of 40 × 20 mm over most of a frame of any size. */
function boardOver(width: number, height: number): { board: BoardMap; view: View } {
  const outline: [number, number][] = [
    [0, 0],
    [40, 0],
    [40, 20],
    [0, 20],
  ];
  return {
    board: { ...BOARD, outline, regions: BOARD.regions.filter((r) => r.ref === "U1" || r.ref === "C1") },
    view: {
      kind: "faultglow/view",
      version: 1,
      side: "top",
      frame: { width, height },
      fiducials: outline.map((board) => ({
        board,
        pixel: [0.1 * width + (0.8 * width * board[0]) / 40, 0.15 * height + (0.7 * height * board[1]) / 20],
      })),
    },
  };
}

const random = makeRandom("bad input");
const noise = () => 25 + 0.05 * random.normal();
const even = () => 25;
const none = () => Number.NaN;

const PAIRS: readonly (readonly [
  string,
  number,
  number,
  (x: number, y: number) => number,
  (x: number, y: number) => number,
])[] = [
  ["1×1 pixel", 1, 1, noise, () => 40],
  ["3×2 pixels", 3, 2, noise, noise],
  ["2×3 pixels, warm", 2, 3, even, () => 60],
  ["8×8 pixels", 8, 8, noise, (x, y) => noise() + (x === 3 && y === 4 ? 9 : 0)],
  ["one row", 40, 1, noise, noise],
  ["one column", 1, 40, noise, noise],
  ["all equal", 64, 48, even, even],
  ["all equal, then warmer", 64, 48, even, () => 27],
  ["all equal, then one warm pixel", 64, 48, even, (x, y) => (x === 30 && y === 20 ? 60 : 25)],
  ["no reading in either", 40, 30, none, none],
  ["no reading with power", 40, 30, noise, none],
  ["no reading before power", 40, 30, none, noise],
  ["one reading", 40, 30, (x, y) => (x === 7 && y === 9 ? 25 : Number.NaN), noise],
  ["a pixel in three without a reading", 64, 48, (x, y) => ((x + y) % 3 === 0 ? Number.NaN : noise()), noise],
  [
    "islands without a reading",
    64,
    48,
    noise,
    (x, y) =>
      Math.hypot(x - 30, y - 20) < 7
        ? Number.NaN
        : noise() + 5 * Math.exp(-((x - 40) ** 2 + (y - 22) ** 2) / 20),
  ],
  ["half of the frame without a reading", 64, 48, (x) => (x < 32 ? Number.NaN : noise()), noise],
  [
    "a spot that the scale cuts off",
    64,
    48,
    noise,
    (x, y) => Math.min(40, noise() + 60 * Math.exp(-((x - 30) ** 2 + (y - 20) ** 2) / 40)),
  ],
  [
    "three levels only",
    64,
    48,
    (x) => (x < 20 ? 24 : 25),
    (x, y) => (x < 20 ? 24 : Math.hypot(x - 40, y - 20) < 4 ? 26 : 25),
  ],
  ["the ends of what can be", 64, 48, () => -100, (x) => (x < 32 ? 1000 : -100)],
];

describe("frames at the edge of what is a frame", () => {
  describe.each(PAIRS)("%s", (_, width, height, before, after) => {
    const pair = { baseline: [frameOf(width, height, before)], powered: [frameOf(width, height, after)] };
    it.each([
      ["without a board", {}],
      ["with a board", boardOver(width, height)],
    ])("%s: an answer that JSON can hold, or an error with a code", (_where, known) => {
      let findings: Findings;
      try {
        findings = findHotspots({ ...pair, ...known });
      } catch (error) {
        // Anything else that is thrown is a fault of ours.
        expect(error).toBeInstanceOf(ToolError);
        return;
      }
      expect(badNumbers(findings)).toEqual([]);
      expect(findingsSchema.parse(JSON.parse(JSON.stringify(findings)))).toEqual(findings);
    });
  });

  it.each(["all equal", "all equal, then warmer"])("%s: no hotspot", (name) => {
    const [, width, height, before, after] = PAIRS.find((p) => p[0] === name)!;
    const findings = findHotspots({
      baseline: [frameOf(width, height, before)],
      powered: [frameOf(width, height, after)],
    });
    expect(findings.hotspots).toEqual([]);
  });
});

describe("frames too small to find anything in", () => {
  it.each([
    [1, 1],
    [40, 1],
    [3, 2],
    [7, 30],
  ])("%i×%i is refused", (width, height) => {
    const small = frameOf(width, height, noise);
    expect(() => findHotspots({ baseline: [small], powered: [small] })).toThrow(/E_FRAME_SIZE.*too small/);
  });
});

describe("frames of few levels", () => {
  /** A board 3 K above the bench, with a spot, rounded to steps; noise of 40 mK before the rounding. */
  const rounded = (stepK: number, spotK: number): Frame => ({
    ...frameOf(128, 96, (x, y) => {
      const board = x > 20 && x < 100 && y > 15 && y < 80 ? 3 : 0;
      const spot = spotK * Math.exp(-((x - 60) ** 2 + (y - 40) ** 2) / 18);
      return Math.round((22.03 + board + spot + 0.04 * random.normal()) / stepK) * stepK;
    }),
    stepK,
  });

  // 0.2 K is an 8-bit picture over 51 K; 0.5 K one over 128 K.
  it.each([0.05, 0.2, 0.5])("steps of %f K: a spot of 3 K is the first hotspot", (stepK) => {
    const { hotspots } = findHotspots({ baseline: [rounded(stepK, 0)], powered: [rounded(stepK, 3)] });
    const { sourcePx } = hotspots[0]!;
    expect(Math.hypot(sourcePx[0] - 60, sourcePx[1] - 40)).toBeLessThan(0.5);
  });

  it.each([0.05, 0.2, 0.5])(
    "steps of %f K, nothing powered: no hotspot, and no claim below what a step hides",
    (stepK) => {
      const findings = findHotspots({ baseline: [rounded(stepK, 0)], powered: [rounded(stepK, 0)] });
      expect(findings.hotspots).toEqual([]);
      // A rounded level that stands still hides a change of up to half a step; many pixels and a little noise see
      // through it in part: a twentieth of a step is beyond doubt hidden.
      expect(findings.threshold.riseK).toBeGreaterThan(0.05 * stepK);
    },
  );
});

describe("what can't be analysed", () => {
  const frames = makeAttempt({ seed: "errors" });

  it.each([
    ["no baseline", { baseline: [], powered: frames.powered }, "baseline"],
    ["no powered frame", { baseline: frames.baseline, powered: [] }, "powered"],
  ])("%s: E_FRAME_NONE", (_, input, role) => {
    const attempt = () => findHotspots(input);
    expect(attempt).toThrow(ToolError);
    expect(attempt).toThrow(new RegExp(`^E_FRAME_NONE: .*${role}`));
  });

  it.each([
    ["baseline", 0],
    ["powered", 1],
  ])("a %s frame of another size: E_FRAME_SIZE, with both sizes and the file", (role, which) => {
    const other: Frame = { ...frameOf(96, 128, noise), file: "turned.csv" };
    const input = {
      baseline: which === 0 ? [...frames.baseline, other] : frames.baseline,
      powered: which === 1 ? [...frames.powered, other] : frames.powered,
    };
    const attempt = () => findHotspots(input);
    expect(attempt).toThrow(ToolError);
    expect(attempt).toThrow(new RegExp(`^E_FRAME_SIZE: .*128×96.*${role}.*96×128 \\(turned\\.csv\\)`));
  });

  it("a view of another frame: E_VIEW_FRAME", () => {
    const view: View = { ...VIEW, frame: { width: 640, height: 480 } };
    expect(() => findHotspots({ ...frames, board: BOARD, view })).toThrow(/^E_VIEW_FRAME/);
  });
});
