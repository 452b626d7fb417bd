import { describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { mirroredHillK, mirroredRoom, roomAround, warmerChance } from "../../../src/sources/mirrored-room.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { modelOf, partOf, pictureOf } from "./small-model.js";

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
    expect(mirroredRoom(model, rise)[0]?.warmedK).toBeCloseTo(8, 4);
    const cooler = mirroredRoom(
      model,
      rise.map((k) => k - 9),
    )[0];
    // From −12.6 to −5.4 K, most of it −5.4: at no place warmer.
    expect(cooler?.changeK).toBeCloseTo((5.4 + 3.6) / 0.9, 4);
    expect(cooler?.warmedK).toBe(0);
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

describe("mirroredRoom: pictures and faces", () => {
  /** Q1 lies below and is bare metal too. */
  const both: BoardMap = {
    ...board,
    regions: board.regions.map((region) =>
      region.ref === "Q1"
        ? { ...region, side: "bottom" as const, finish: "bare-metal" as const, emissivity: 0.2 }
        : region,
    ),
  };
  const below: View = {
    ...VIEW,
    side: "bottom",
    fiducials: VIEW.fiducials!.map(({ board: at, pixel: [x, y] }) => ({ board: at, pixel: [128 - x, y] })),
  };
  const seen = modelOf(both, [pictureOf(VIEW), pictureOf(below), pictureOf(VIEW)]);

  it("each picture tells of the faces on its side, by its own pixels", () => {
    const size = width * height;
    const rise = new Float32Array(3 * size);
    rise.set(shown());
    rise.fill(-2.4, size, 2 * size);
    rise.set(
      shown().map((value) => value / 2),
      2 * size,
    );
    const told = mirroredRoom(seen, rise).map(({ region, picture, changeK }) => ({
      region,
      picture,
      changeK,
    }));
    expect(told).toEqual([
      { region: 1, picture: 0, changeK: expect.closeTo(4, 4) },
      // Eight tenths of it.
      { region: 4, picture: 1, changeK: expect.closeTo(3, 4) },
      { region: 1, picture: 2, changeK: expect.closeTo(2, 4) },
    ]);
  });

  it("a face that probably is a mirror counts as one that shows 85 percent, whatever the map says", () => {
    const withChance = (shinyChance: number) => ({
      pictures: model.pictures,
      candidates: model.candidates.map((one) => (one.ref === "U1" ? { ...one, shinyChance } : one)),
    });
    const told = mirroredRoom(withChance(0.6), shown()).find(({ region }) => region === 0);
    expect(told?.changeK).toBeCloseTo(3.6 / 0.85, 4);
    expect(mirroredRoom(withChance(0.5), shown()).map(({ region }) => region)).toEqual([1]);
  });

  it("a face tells from half of the room on", () => {
    const withEmissivity = (emissivity: number) => ({
      pictures: model.pictures,
      candidates: model.candidates.map((one) => (one.ref === "U1" ? { ...one, emissivity } : one)),
    });
    const asked = (emissivity: number) =>
      mirroredRoom(withEmissivity(emissivity), shown()).map(({ region }) => region);
    expect(asked(0.49)).toContain(0);
    expect(asked(0.51)).not.toContain(0);
  });
});

describe("roomAround and mirroredHillK: several mirrors", () => {
  const c1 = partOf(model, "C1");
  const [x, y] = model.pictures[0]!.view.toFrame(c1.at).map((px) => px / width) as [number, number];
  const mirror = (dx: number, dy: number, changeK: number) => ({
    region: 1,
    picture: 0,
    at: [x + dx, y + dy] as [number, number],
    changeK: Math.abs(changeK),
    warmedK: Math.max(0, changeK),
    levelK: changeK,
  });
  const reaching = (away: number) => Math.exp(-0.5 * (away / 0.25) ** 2);

  it("the one that shows most there counts, in whatever order, and no other adds to it", () => {
    const [far, near, faint] = [mirror(0.3, -0.4, 9), mirror(-0.06, 0.08, 4), mirror(0, 0, 1)];
    for (const mirrors of [
      [far, near, faint],
      [faint, near, far],
    ]) {
      expect(roomAround(model, c1, mirrors, 0)).toBeCloseTo(0.25 * 4 * reaching(0.1), 6);
      expect(mirroredHillK(model, c1, mirrors)).toBeCloseTo(0.09 * 0.25 * 4 * reaching(0.1), 6);
    }
  });

  it("how much is scattered and how far are options", () => {
    const options = { softShare: 0.5, reachWidths: 0.1 };
    const shown = 4 * Math.exp(-0.5 * 4);
    expect(roomAround(model, c1, [mirror(0.2, 0, 4)], 0.4, options)).toBeCloseTo(
      Math.hypot(0.4, 0.5 * shown),
      6,
    );
    expect(mirroredHillK(model, c1, [mirror(0, 0.2, 4)], options)).toBeCloseTo(0.09 * 0.5 * shown, 6);
  });

  it("where the room got cooler no hill is mirrored beside the mirror that shows it, and further off as much as that leaves open", () => {
    const cooler = mirror(0.15, 0, -4);
    const open = Math.sqrt(1 - reaching(0.15) ** 2);
    expect(mirroredHillK(model, c1, [mirror(0, 0, -4)])).toBe(0);
    expect(mirroredHillK(model, c1, [mirror(0, 0, -1), cooler])).toBe(0);
    expect(mirroredHillK(model, c1, [cooler])).toBeCloseTo(0.09 * 0.25 * 4 * reaching(0.15) * open, 6);
    // A face's step may be of either sign.
    expect(roomAround(model, c1, [cooler], 0)).toBeCloseTo(0.25 * 4 * reaching(0.15), 6);
  });

  it("the room is as probably warmer as the mirror that shows most there is like it (Sheppard's orthant probability)", () => {
    const other = mirror(0.2, 0, -4);
    expect(warmerChance(model, c1, [])).toBe(0.5);
    // Places alike by r = ½ have the same sign in two of three cases, if the change is far above its error and both
    // show it alike.
    const half = Math.sqrt(2 * Math.log(2)) * 0.25;
    const sure = { alikeAtOnce: 1 };
    expect(warmerChance(model, c1, [mirror(half, 0, 300)], sure)).toBeCloseTo(2 / 3, 6);
    expect(warmerChance(model, c1, [mirror(0, half, -300)], sure)).toBeCloseTo(1 / 3, 6);
    // Of two the one that shows most there.
    const alike = 0.9 * reaching(0.2) * (16 / 16.04);
    expect(warmerChance(model, c1, [mirror(half, 0, 0.3), other])).toBeCloseTo(
      0.5 - Math.asin(alike) / Math.PI,
      10,
    );
    // Of a mirror in the same place a chance is left, and of one that hardly changed all of it.
    expect(warmerChance(model, c1, [mirror(0, 0, -9)])).toBeGreaterThan(0.1);
    expect(Math.abs(warmerChance(model, c1, [mirror(0, 0, 0.01)]) - 0.5)).toBeLessThan(0.001);
    // Its own face tells nothing of itself.
    expect(warmerChance(model, partOf(model, "U2"), [mirror(0, 0, 5)])).toBe(0.5);
  });
});
