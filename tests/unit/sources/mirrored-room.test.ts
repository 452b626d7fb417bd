import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { mirroredHillK, mirroredRoom, roomAround } from "../../../src/sources/mirrored-room.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { modelOf, partOf } from "./small-model.js";

/** U2 is bare metal of emissivity 0.1, and C2 lies below. */
const board: BoardMap = {
  ...BOARD,
  regions: BOARD.regions.map((region) => {
    if (region.ref === "U2") return { ...region, finish: "bare-metal" as const, emissivity: 0.1 };
    return region.ref === "C2" ? { ...region, side: "bottom" as const } : region;
  }),
};
const model = modelOf(board);
const { width, height } = VIEW.frame;

/** 3.6 K on U2: 23…30 × 13…19 mm at 2.7 px/mm from (9.3, 14.8); as much on U1, which is plastic. */
function shown(): Float32Array {
  const rise = new Float32Array(width * height);
  for (let y = 50; y <= 66; y++) rise.fill(3.6, y * width + 72, y * width + 91);
  for (let y = 29; y <= 41; y++) rise.fill(3.6, y * width + 31, y * width + 47);
  return rise;
}

describe("mirroredRoom", () => {
  it("is read off the face that mirrors and not off the one that is dull", () => {
    const [one, ...rest] = mirroredRoom(model, shown());
    expect(rest).toEqual([]);
    // Nine tenths of the room: 3.6 K of 4 K.
    expect(one?.changeK).toBeCloseTo(4, 4);
    expect(one?.region).toBe(1);
    // Its middle: (9.3 + 2.7 × 26.5, 14.8 + 2.7 × 16) px of a picture 128 px wide.
    expect(one?.at[0]).toBeCloseTo(80.85 / 128, 6);
    expect(one?.at[1]).toBeCloseTo(58 / 128, 6);
  });

  it("a room that shows on a part of the face only counts by its spread", () => {
    const rise = shown();
    for (let y = 50; y <= 66; y++) rise.fill(-3.6, y * width + 72, y * width + 78);
    // Nine tenths from −3.6 to 3.6 K: the median, and half of that.
    expect(mirroredRoom(model, rise)[0]?.changeK).toBeCloseTo(8, 4);
  });
});

describe("roomAround", () => {
  const mirrors = mirroredRoom(model, shown());

  it("a dull face mirrors a quarter of it, less the further off it lies", () => {
    const near = partOf(model, "C1");
    // From (26.5, 16) to (30.8, 5.45) mm: 11.39 mm or 0.2403 widths of the picture, of a reach of 0.25.
    const expected = Math.hypot(0.3, 0.25 * 4 * Math.exp(-0.5 * (0.2403 / 0.25) ** 2));
    expect(roomAround(model, near, mirrors, 0.3)).toBeCloseTo(expected, 3);
    expect(roomAround(model, partOf(model, "U1"), mirrors, 0.3)).toBeLessThan(expected);
  });

  it("its own face does not tell a mirror of itself, nor does one on the other side of the board", () => {
    expect(roomAround(model, partOf(model, "U2"), mirrors, 0.3)).toBe(0.3);
    expect(roomAround(model, partOf(model, "C2"), mirrors, 0.3)).toBe(0.3);
    expect(roomAround(model, partOf(model, "C1"), [], 0.3)).toBe(0.3);
  });
});

describe("mirroredHillK", () => {
  const mirrors = mirroredRoom(model, shown());

  it("solder mask of emissivity 0.91 shows nine percent of what a dull finish mirrors, around the mirror itself too", () => {
    expect(mirroredHillK(model, partOf(model, "U2"), mirrors)).toBeCloseTo(0.09 * 0.25 * 4, 5);
    const away = Math.exp(-0.5 * (0.2403 / 0.25) ** 2);
    expect(mirroredHillK(model, partOf(model, "C1"), mirrors)).toBeCloseTo(0.09 * 0.25 * 4 * away, 3);
  });

  it("parts below lie under the same mask", () => {
    expect(mirroredHillK(model, partOf(model, "C2"), mirrors)).toBeGreaterThan(0);
    expect(mirroredHillK(model, partOf(model, "C2"), [])).toBe(0);
  });
});
