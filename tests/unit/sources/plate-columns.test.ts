import { afterEach, describe, expect, it } from "vitest";
import { useKernels } from "../../../src/numeric/kernels.js";
import { PlateColumns } from "../../../src/sources/plate-columns.js";
import { bothWays } from "../numeric/both-ways.js";
import { MIXED } from "./mixed-board.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { modelOf, pictureOf } from "./small-model.js";

const BELOW = {
  ...VIEW,
  side: "bottom" as const,
  frame: { width: 100, height: 62 },
  fiducials: BOARD.outline.map((board) => ({
    board,
    pixel: [94.2 - 2.2 * board[0], 4.6 + 2.2 * board[1]] as [number, number],
  })),
};
const model = modelOf(MIXED, [pictureOf(VIEW, null, 1), pictureOf(BELOW, null, 0.8)]);
const footprints = model.candidates.map(({ footprint }) => footprint);

describe("PlateColumns", () => {
  const make = () => new PlateColumns(model.grid, model.pictures);
  const fast = make();
  const plain = make();
  afterEach(() => useKernels(true));

  it.each([
    { stepMm: 18, weights: [1], keep: 1, perWatt: 0.05 },
    { stepMm: 6.8 / Math.sqrt(3), weights: [1, 1, 1], keep: 1, perWatt: 0.004 },
    { stepMm: 5.1, weights: [2.76, 0.63, 1], keep: 0.71, perWatt: 0.021 },
  ])("gives the plain code's columns to the last bit: steps $weights of $stepMm mm", (way) => {
    // Not a multiple of the four that are computed together.
    expect(footprints.length % 4).not.toBe(0);
    const [a, b] = bothWays((withKernels) => (withKernels ? fast : plain).columns(footprints, way));
    expect(a.length).toBe(footprints.length);
    a.forEach((column, k) => {
      expect(column.every((value, i) => value === b[k]![i])).toBe(true);
      expect(column.reduce((most, value) => Math.max(most, value), 0)).toBeGreaterThan(0);
    });
  });

  it("gives a column the same alone as among others, whatever came before", () => {
    const way = { stepMm: 5.1, weights: [2.76, 0.63, 1], keep: 0.71, perWatt: 0.021 };
    const all = fast.columns(footprints, way);
    // Another model has the kernels in between.
    make().columns(footprints.slice(1), { stepMm: 3, weights: [1], keep: 1, perWatt: 1 });
    expect(fast.columns([footprints[1]!], way)[0]).toEqual(all[1]);
  });
});
