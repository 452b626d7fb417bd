import { describe, expect, it } from "vitest";
import { framePoint } from "../../../src/core/units.js";
import { makePlateGrid, solveSteady, solveTransient } from "../../simulate/plate.js";
import { BOARD } from "./relaxed-plate.js";
import { modelOf, partOf } from "./small-model.js";

const SHARE = 0.02;
const CELL_MM = 0.4;
const wave = (x: number, y: number) =>
  Math.cos((Math.PI * x) / 40) + 0.6 * Math.cos((2 * Math.PI * y) / 24 + 0.5);
const CONSTANTS = { lossWPerM2K: 20, heatCapacityJPerM2K: 2000 };

/** By how much one watt in U1 makes the plate warmer where its conductance is greater by a small share of the wave: of
 *  a solver that shares nothing with the tool's. */
function difference(timeS: number | null): (x: number, y: number) => number {
  const rises = [1, -1].map((sign) => {
    const grid = makePlateGrid(BOARD.outline, CELL_MM, (x, y) => 0.008 * (1 + sign * SHARE * wave(x, y)));
    const heat = new Float64Array(grid.inside.length);
    const inside = [...heat.keys()].filter((c) => {
      const [x, y] = [(0.5 + (c % grid.nx)) * CELL_MM, (0.5 + Math.floor(c / grid.nx)) * CELL_MM];
      return x > 8 && x < 14 && y > 5 && y < 10;
    });
    for (const c of inside) heat[c] = 1 / inside.length;
    const rise =
      timeS === null
        ? solveSteady(grid, CONSTANTS, heat)
        : solveTransient(grid, CONSTANTS, heat, [timeS])[0]!;
    return { rise, nx: grid.nx };
  });
  return (x, y) => {
    const c = Math.floor(y / CELL_MM) * rises[0]!.nx + Math.floor(x / CELL_MM);
    return (rises[0]!.rise[c]! - rises[1]!.rise[c]!) / (2 * SHARE);
  };
}

describe("what uneven copper changes", () => {
  for (const timeConstants of [16, 0.25]) {
    it(`is what a solver of uneven plates finds after ${timeConstants} time constants`, () => {
      const model = modelOf();
      const { grid } = model.copper;
      const field = Float64Array.from(grid.cellOf, (cell) =>
        wave(
          grid.x0Mm + (cell % grid.columns) * grid.stepMm,
          grid.y0Mm + Math.floor(cell / grid.columns) * grid.stepMm,
        ),
      );
      const footprint = model.copper.footprint(partOf(model, "U1").polygon)!;
      const kind = timeConstants > 1 ? "steady" : "rising";
      const way = model.wayTo({ kind, lengthMm: 20, timeConstants });
      const column = model.copper.columns([field], [{ footprint, powerW: 1 }], way)[0]!;
      const wanted = difference(timeConstants > 1 ? null : 25);
      const { view, seen } = model.pictures[0]!;
      let [square, wrong, sum, all] = [0, 0, 0, 0];
      column.at!.forEach((pixel, k) => {
        const [x, y] = view.toBoard(framePoint(pixel % seen.width, Math.floor(pixel / seen.width)));
        const truth = wanted(Math.min(39.9, Math.max(0.1, x)), Math.min(23.9, Math.max(0.1, y)));
        const value = column.values[k]! / seen.shown[pixel]!;
        square += truth ** 2;
        wrong += (value - truth) ** 2;
        sum += value;
        all += Math.abs(value);
      });
      expect(Math.sqrt(wrong / square)).toBeLessThan(0.12);
      // Copper carries heat about and keeps none.
      expect(Math.abs(sum)).toBeLessThan(0.03 * all);
    });
  }
});
