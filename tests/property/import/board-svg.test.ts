// A map that is drawn as SVG and read back is the same map.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { FINISHES, type Region } from "../../../src/board/board-schema.js";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { boardToSvg } from "../../../src/import/board-to-svg.js";
import { importBoard } from "../../../src/import/import-board.js";

/** Any text, with characters that XML can't hold and half pairs among them. */
const text = fc.string({
  unit: fc.oneof(
    fc.string({ minLength: 1, maxLength: 1 }),
    fc.integer({ min: 0, max: 0xffff }).map((code) => String.fromCharCode(code)),
  ),
  maxLength: 12,
});
const maybe = <Value>(arbitrary: fc.Arbitrary<Value>) => fc.option(arbitrary, { nil: undefined });
const coordinate = (min: number, max: number) =>
  fc.double({ min, max, noNaN: true }).map((value) => (Math.abs(value) < 1e-300 ? 0 : value));

/** Regions as turned rectangles well inside an outline of 80 × 50 mm; they may overlap. */
const region = fc
  .record({
    ref: text,
    label: maybe(text),
    side: fc.constantFrom("top" as const, "bottom" as const),
    kind: maybe(
      fc.constantFrom("ic", "passive", "shield", "connector", "other") as fc.Arbitrary<
        NonNullable<Region["kind"]>
      >,
    ),
    finish: maybe(fc.constantFrom(...FINISHES)),
    emissivity: maybe(fc.double({ min: 0.01, max: 1, noNaN: true })),
    nets: maybe(fc.array(text, { maxLength: 4 })),
    normallyWarm: maybe(fc.boolean()),
    x: coordinate(-20, 20),
    y: coordinate(-10, 10),
    width: fc.double({ min: 0.1, max: 8, noNaN: true }),
    height: fc.double({ min: 0.1, max: 6, noNaN: true }),
    turn: fc.double({ min: 0, max: 6.3, noNaN: true }),
  })
  .map(({ x, y, width, height, turn, ...fields }) => {
    const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
    const polygon = [
      [-width, -height],
      [width, -height],
      [width, height],
      [-width, height],
    ].map(([u, v]) => [x + cos * u! - sin * v!, y + sin * u! + cos * v!]);
    return Object.fromEntries(
      Object.entries({ ...fields, polygon }).filter(([, value]) => value !== undefined),
    );
  });

const map = fc
  .record({
    name: maybe(text),
    thicknessMm: maybe(fc.double({ min: 0.1, max: 5, noNaN: true })),
    plate: maybe(fc.record({ lossWPerM2K: fc.double({ min: 1, max: 90, noNaN: true }) })),
    left: coordinate(-60, -41),
    regions: fc.array(region, { maxLength: 6 }),
  })
  .map(({ left, regions, ...fields }) => ({
    kind: "faultglow/board",
    version: 1,
    ...Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)),
    outline: [
      [left, -25.5],
      [41, -26],
      [43, 25],
      [left, 24],
    ],
    // Numbers make the refs unique.
    regions: regions.map((one, i) => ({ ...one, ref: `${one["ref"] as string}${i}` })),
  }));

describe("a board map drawn as SVG", () => {
  it("comes back to the last digit", () => {
    fc.assert(
      fc.property(map, (value) => {
        const { board } = parseBoardMap(value, "board.json");
        const back = importBoard(new TextEncoder().encode(boardToSvg(board)), "board.svg");
        expect(back.board).toEqual(board);
        expect(boardToSvg(back.board)).toBe(boardToSvg(board));
      }),
      { numRuns: 300 },
    );
  });
});
