import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { framePoint } from "../../../src/core/units.js";
import { POWER_ERRORS } from "../../../src/sources/average-powers.js";
import { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { copperPowers } from "../../../src/sources/copper-powers.js";
import type { NuisanceColumn } from "../../../src/sources/nuisance-columns.js";
import { onBoardOnly } from "../../../src/sources/picture.js";
import { TIMES_BETWEEN } from "../../../src/sources/plate-state.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { recast } from "../../../src/sources/recast-candidate.js";
import type { SourceModel } from "../../../src/sources/source-model.js";
import { randomCopper } from "../../simulate/copper.js";
import { makePlateGrid, solveTransient } from "../../simulate/plate.js";
import { makeRandom } from "../../simulate/random.js";
import { denseOf } from "./dense-column.js";
import { BOARD, type Copper, showRise } from "./relaxed-plate.js";
import { fitRise, levelColumns, modelOf, partOf } from "./small-model.js";

const WATTS = 0.4;
const copperOf = (k: number): Copper => randomCopper(makeRandom(`copper ${k}`), BOARD.outline);

const sourceOf = (rise: Float32Array, model: SourceModel) =>
  fitRise(model, rise).sources.find(({ candidate }) => candidate.ref === "U1")!;

function found(rise: Float32Array, model = modelOf()) {
  const source = sourceOf(rise, model);
  const { powerW, powerLogSigma } = source.toTell!;
  return { even: source.powerW / WATTS, told: powerW / WATTS, logSigma: powerLogSigma };
}

const off = (ratios: readonly number[]) =>
  Math.sqrt(ratios.reduce((sum, one) => sum + Math.log(one) ** 2, 0) / ratios.length);

const { plate: _, ...UNTOLD } = BOARD;
const TOLD: BoardMap = {
  ...BOARD,
  plate: { conductanceWPerK: 0.008, lossWPerM2K: 20, heatCapacityJPerM2K: 2000 },
};

/** Divides the board and U1. */
const CELL_MM = 0.5;

/** A rise some seconds after power-on, on a plate of whose constants nothing is wrong but that its copper is uneven. */
function warming(timeS: number, copper: Copper, seed: string, isKnown = true, board = TOLD) {
  const model = modelOf(board, undefined, isKnown ? timeS : null);
  const grid = makePlateGrid(BOARD.outline, CELL_MM, (x, y) => 0.008 * copper(x, y));
  const heat = new Float64Array(grid.inside.length);
  const place = (c: number) =>
    [(0.5 + (c % grid.nx)) * CELL_MM, (0.5 + Math.floor(c / grid.nx)) * CELL_MM] as const;
  const inside = [...heat.keys()].filter((c) => {
    const [x, y] = place(c);
    return x > 8 && x < 14 && y > 5 && y < 10;
  });
  for (const c of inside) heat[c] = WATTS / inside.length;
  const constants = { lossWPerM2K: 20, heatCapacityJPerM2K: 2000 };
  const rise = solveTransient(grid, constants, heat, [timeS])[0]!;
  const random = makeRandom(`warming ${seed}`);
  const { view, seen } = model.pictures[0]!;
  const shown = Float32Array.from({ length: model.size }, () => 0.03 * random.normal());
  for (const pixel of seen.pixels) {
    const [x, y] = view.toBoard(framePoint(pixel % seen.width, Math.floor(pixel / seen.width)));
    const [i, j] = [
      Math.min(grid.nx - 1, Math.floor(x / CELL_MM)),
      Math.min(grid.ny - 1, Math.floor(y / CELL_MM)),
    ];
    shown[pixel]! += seen.shown[pixel]! * rise[Math.max(0, j) * grid.nx + Math.max(0, i)]!;
  }
  return { shown, model };
}

describe("watts on uneven copper", () => {
  it("on even copper are those of the fit", () => {
    const { even, told } = found(showRise({ U1: WATTS }, 0.04, "even").data);
    expect(Math.abs(told - 1)).toBeLessThan(0.08);
    expect(Math.abs(told - even)).toBeLessThan(0.06);
  });

  it("at rest go less with the copper, and know how much they do", () => {
    const all = Array.from({ length: 10 }, (_, k) =>
      found(showRise({ U1: WATTS }, 0.04, `copper ${k}`, {}, {}, copperOf(k)).data),
    );
    expect(off(all.map(({ even }) => even))).toBeGreaterThan(0.05);
    expect(off(all.map(({ told }) => told))).toBeLessThan(0.7 * off(all.map(({ even }) => even)));
    const inside = all.filter(({ told, logSigma }) => Math.abs(Math.log(told)) < 1.645 * logSigma);
    expect(inside.length).toBeGreaterThanOrEqual(8);
  }, 60_000);

  it("while the plate warms go by the time since power-on, where it is known", () => {
    const all = Array.from({ length: 8 }, (_, k) => {
      const { shown, model } = warming(12, copperOf(k), `${k}`);
      return found(shown, model);
    });
    expect(off(all.map(({ told }) => told))).toBeLessThan(0.7 * off(all.map(({ even }) => even)));
  }, 60_000);

  // The search's times are 0.72, 1.45 and 2.9 s: these lie before the first, between two and on one.
  it.each([0.4, 1, 2.9])(
    "after %f s that are not known are told by the shape alone",
    (timeS) => {
      const { shown, model } = warming(timeS, () => 1, `after ${timeS}`, false);
      const { told, logSigma } = found(shown, model);
      expect(Math.abs(Math.log(told))).toBeLessThan(0.12);
      // A state stands for all times up to the next one's: more than the plate's constants leave open.
      expect(logSigma).toBeGreaterThan(1.15 * POWER_ERRORS.copper);
    },
    60_000,
  );

  it("are as unsure as a fifth of the smooth change that is allowed for leaves them", () => {
    const model = modelOf(TOLD);
    const part = recast(partOf(model, "U1"), "plate");
    const state = model.states.at(-1)!;
    const perWatt = denseOf(model.plateColumn(part, state), model.size);
    const rise = Float32Array.from(perWatt, (value) => WATTS * value);
    // Smooth change of the very shape of the heat: of these watts half may be none, before they are told.
    const alike: NuisanceColumn = {
      what: "smooth",
      column: model.plateColumn(part, state),
      priorSigma: 0.5 * WATTS,
    };
    const nuisance = [...levelColumns(model, 0.3), alike];
    const variance = onBoardOnly(new Float32Array(model.size).fill(0.04 ** 2), model.pictures);
    const pools = [
      { pool: new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), state), penalty: 0 },
    ];
    const parts = { rise, variance, nuisance, state, scale: 1 };
    const { powerLogSigma } = copperPowers(model, parts, [part], rise, pools)![0]!;
    const bySmooth = Math.sqrt(powerLogSigma ** 2 - POWER_ERRORS.copper ** 2);
    expect(bySmooth).toBeGreaterThan(0.09);
    expect(bySmooth).toBeLessThan(0.14);
  });

  it("know no time between two states where the time is told, and half of the way to the next where it is not", () => {
    const logSigmaOf = (timeS: number | null) => {
      const model = modelOf(TOLD, undefined, timeS);
      const part = recast(partOf(model, "U1"), "plate");
      const state = model.states.find(({ kind }) => kind === "rising")!;
      const perWatt = denseOf(model.plateColumn(part, state), model.size);
      const rise = Float32Array.from(perWatt, (value) => WATTS * value);
      const nuisance = levelColumns(model, 0.3);
      const variance = onBoardOnly(new Float32Array(model.size).fill(1e-6), model.pictures);
      const pools = [
        { pool: new CandidatePool(model, new ProjectedFit(rise, variance, nuisance), state), penalty: 0 },
      ];
      const parts = { rise, variance, nuisance, state, scale: 1 };
      const { powerLogSigma } = copperPowers(model, parts, [part], rise, pools)![0]!;
      return { between: Math.sqrt(powerLogSigma ** 2 - model.plate.copperError(state) ** 2) };
    };
    // The shape tells the time: watts go inversely as it, evenly over a quarter of a step.
    const half = Math.log(TIMES_BETWEEN) / 4 / Math.sqrt(12);
    expect(logSigmaOf(null).between).toBeGreaterThan(half);
    expect(logSigmaOf(null).between).toBeLessThan(1.1 * half);
    expect(logSigmaOf(12).between).toBeLessThan(0.4 * half);
  });

  it("are told in every likely state where the map does not tell the plate, and mean the median of them", () => {
    const { shown, model } = warming(3, () => 1, "untold", true, UNTOLD);
    const { toTell } = sourceOf(shown, model);
    const states = toTell!.byState!;
    expect(states.reduce((sum, { chance }) => sum + chance, 0)).toBeCloseTo(1, 9);
    const watts = states.map(({ powerW }) => powerW);
    expect(toTell!.powerW).toBeGreaterThanOrEqual(0.99 * Math.min(...watts));
    expect(toTell!.powerW).toBeLessThanOrEqual(1.01 * Math.max(...watts));
    // In a known time the capacity tells them: of the board's size, of which the plate's is 2000 J/m²K.
    expect(Math.abs(Math.log(toTell!.powerW / WATTS))).toBeLessThan(0.4);
  });
});
