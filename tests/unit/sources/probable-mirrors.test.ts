import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { withProbableMirrors } from "../../../src/sources/probable-mirrors.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, pictureOf } from "./small-model.js";

/** The map keeps silent about the finish of some parts. */
const untold = (...refs: readonly string[]): BoardMap => ({
  ...BOARD,
  regions: BOARD.regions.map((one) => (refs.includes(one.ref) ? { ...one, finish: undefined } : one)),
});

/** The baseline, in which some faces stand out of the board by so much. */
function modelWith(board: BoardMap, contrasts: Readonly<Record<string, number>>) {
  const { width, height } = VIEW.frame;
  const scene = new Float32Array(width * height).fill(24);
  const plain = modelOf(board);
  for (const [ref, contrastK] of Object.entries(contrasts)) {
    const { at, values } = partOf(plain, ref).body!;
    at!.forEach((pixel, k) => {
      scene[pixel]! += contrastK * values[k]!;
    });
  }
  return modelOf(board, [pictureOf(VIEW, scene)]);
}
const shinyOf = (board: BoardMap) =>
  board.regions.filter(({ finish }) => finish === "bare-metal").map(({ ref }) => ref);

describe("withProbableMirrors", () => {
  it("tells a part of unstated finish for bare metal that stands out of the unpowered board as a mirror does", () => {
    const board = untold("U1", "U2");
    const told = withProbableMirrors(board, modelWith(board, { U2: 4 }));
    expect(shinyOf(told)).toEqual(["U2"]);
    expect(told.regions.filter((one, k) => one !== board.regions[k])).toHaveLength(1);
  });

  it("leaves what the map tells, and what does not stand out", () => {
    expect(withProbableMirrors(BOARD, modelWith(BOARD, { U2: 4 }))).toBe(BOARD);
    const board = untold("U1", "U2");
    expect(withProbableMirrors(board, modelWith(board, { U2: 0.1 }))).toBe(board);
  });

  it("leaves a face of few pixels", () => {
    const small: BoardMap = {
      ...untold("C1"),
      regions: untold("C1").regions.map((one) =>
        one.ref === "C1"
          ? {
              ...one,
              polygon: [
                [30, 5],
                [30.9, 5],
                [30.9, 5.9],
                [30, 5.9],
              ],
            }
          : one,
      ),
    };
    const model = modelWith(small, { C1: 30 });
    expect(partOf(model, "C1").shinyChance).toBeGreaterThan(0.5);
    expect(withProbableMirrors(small, model)).toBe(small);
  });
});
