import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { analyse } from "../../../src/findings/analyse.js";
import type { PartFindings } from "../../../src/findings/parts-schema.js";
import { type Frame, frameFromRaster } from "../../../src/frames/frame.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";
import { makeTwoSides, TWO_SIDED } from "./make-two-sides.js";

const named = (parts: readonly PartFindings[] | undefined, ref: string) =>
  parts!.find((part) => part.ref === ref)!;

/** A frame in which the pixels of one face are warmer by so much. */
function withStep(frame: Frame, ref: string, stepK: number): Frame {
  const [low, , high] = BOARD.regions.find((region) => region.ref === ref)!.polygon;
  const { width, height, data } = frame.raster;
  const warm = data.map((value, i) => {
    const x = (i % width) - 9.3;
    const y = Math.floor(i / width) - 14.8;
    const on = x > 2.7 * low![0] && x < 2.7 * high![0] && y > 2.7 * low![1] && y < 2.7 * high![1];
    return value + (on ? stepK : 0);
  });
  return frameFromRaster(createRaster("degC", width, height, warm) as Raster<"degC">);
}

describe("measureParts", () => {
  const heated = analyse({ ...makeAttempt({ watts: { U2: 0.08 } }), board: BOARD, view: VIEW }).findings;

  it("has every region of the map, in its order, with its place", () => {
    expect(heated.parts!.map(({ ref }) => ref)).toEqual(["U1", "U2", "C1", "C2", "Q1"]);
    expect(named(heated.parts, "U2").boundsMm).toEqual([23, 13, 30, 19]);
    expect(heated.parts!.every(({ seen, shiny }) => seen && !shiny)).toBe(true);
  });

  it("says what heats, by how much, and that the others don't", () => {
    const { powerW, hotspot, contrastK, limitK, riseK } = named(heated.parts, "U2");
    expect(hotspot).toBe(1);
    // Watts that attempts are compared by; what a hotspot tells goes by the warmth of the whole board.
    expect(powerW! / heated.hotspots[0]!.powerW!).toBeGreaterThan(0.9);
    expect(powerW! / heated.hotspots[0]!.powerW!).toBeLessThan(1.1);
    expect(contrastK!).toBeGreaterThan(limitK!);
    expect(riseK!).toBeGreaterThanOrEqual(heated.hotspots[0]!.peakRiseK);
    for (const ref of ["U1", "C2", "Q1"]) {
      const cold = named(heated.parts, ref);
      expect([cold.hotspot, cold.powerW]).toEqual([null, null]);
      expect(cold.contrastK!).toBeLessThan(cold.limitK!);
      expect(cold.limitW!).toBeGreaterThan(0);
    }
  });

  it.each(["U1", "Q1"])("reads a face that is warmer throughout as warm as it is: %s", (ref) => {
    const { baseline, powered } = makeAttempt({ seed: "step", driftK: 0, patternK: 0 });
    const warm = powered.map((frame) => withStep(frame, ref, 0.9));
    const { parts } = analyse({ baseline, powered: warm, board: BOARD, view: VIEW }).findings;
    const { contrastK, contrastSigmaK } = named(parts, ref);
    // Whole pixels: a face of 8 × 5 px may be a tenth larger or smaller than it is, and is sharp where a blur of 1 px
    // is expected.
    expect(contrastK!).toBeGreaterThan(0.85 * 0.9 - 3 * contrastSigmaK!);
    expect(contrastK!).toBeLessThan(1.2 * 0.9 + 3 * contrastSigmaK!);
  });

  it("noise: contrasts of cold faces scatter by what is stated", () => {
    const pulls = Array.from({ length: 5 }, (_, k) =>
      analyse({ ...makeAttempt({ seed: `cold ${k}` }), board: BOARD, view: VIEW }).findings.parts!.map(
        ({ contrastK, contrastSigmaK }) => contrastK! / contrastSigmaK!,
      ),
    ).flat();
    const spread = Math.sqrt(pulls.reduce((sum, pull) => sum + pull * pull, 0) / pulls.length);
    // 25 pulls know their spread to 14 %; the noise at edges is stated with room for what a nudge leaves.
    expect(spread).toBeGreaterThan(0.5);
    expect(spread).toBeLessThan(1.45);
  });

  it("does not see what lies on the other side, until a view shows it", () => {
    const { top, bottom } = makeTwoSides("bottom", 0.05, "parts");
    const alone = named(analyse({ ...top, board: TWO_SIDED }).findings.parts, "C9");
    expect(alone).toMatchObject({ seen: false, contrastK: null, limitK: null });
    expect(alone.riseK).not.toBeNull();
    const joined = analyse({ ...top, board: TWO_SIDED, otherSide: bottom }).findings;
    expect(named(joined.parts, "C9")).toMatchObject({ seen: true, side: "bottom" });
    expect(joined.board!.sides).toEqual(["top", "bottom"]);
    expect(joined.parts!.length).toBe(TWO_SIDED.regions.length);
  });

  it("does not see what lies outside the frame", () => {
    const shifted: View = {
      ...VIEW,
      fiducials: VIEW.fiducials.map(({ board, pixel: [x, y] }) => ({ board, pixel: [x - 50, y] })),
    };
    const { parts } = analyse({ ...makeAttempt({ seed: "out" }), board: BOARD, view: shifted }).findings;
    // U1 lies from 30.9 to 47.1 px in the true view, so wholly left of the frame in this one.
    expect(named(parts, "U1")).toMatchObject({ seen: false, riseK: null, contrastK: null });
    expect(named(parts, "U2").seen).toBe(true);
  });

  it("gives no limit in kelvins for a face that mirrors", () => {
    const shiny: BoardMap = {
      ...BOARD,
      regions: BOARD.regions.map((region) =>
        region.ref === "U1" ? { ...region, finish: "bare-metal" as const } : region,
      ),
    };
    const { parts } = analyse({ ...makeAttempt({ seed: "can" }), board: shiny, view: VIEW }).findings;
    expect(named(parts, "U1")).toMatchObject({ shiny: true, limitK: null, seen: true });
  });
});

describe("identifyBoard", () => {
  const identity = (board: BoardMap) =>
    analyse({ ...makeAttempt({ seed: "same" }), board, view: VIEW }).findings.board!;
  const plain = identity(BOARD);

  it("tells boards by outline and parts, not by finishes, nets or the order of the regions", () => {
    const relabelled = {
      ...BOARD,
      regions: [...BOARD.regions].reverse().map((region) => ({ ...region, nets: ["GND"] })),
    };
    expect(identity(relabelled)).toMatchObject({ outline: plain.outline, parts: plain.parts });
    const moved = structuredClone(BOARD);
    moved.regions[2]!.polygon[0]![0] += 0.01;
    expect(identity(moved).outline).toBe(plain.outline);
    expect(identity(moved).parts).not.toBe(plain.parts);
    const cut = structuredClone(BOARD);
    cut.outline[2]![1] -= 0.5;
    expect(identity(cut).outline).not.toBe(plain.outline);
  });

  it("hashes as FNV-1a does", async () => {
    // 64-bit FNV-1a of the empty text is the offset basis, of "a" af63dc4c8601ec8c (draft-eastlake-fnv, from memory).
    const { hashText } = await import("../../../src/findings/identify-board.js");
    expect(hashText("")).toBe("cbf29ce484222325");
    expect(hashText("a")).toBe("af63dc4c8601ec8c");
  });
});
