import { describe, expect, it } from "vitest";
import { showPlate } from "../../../src/sources/board-in-frame.js";
import { heatFootprint } from "../../../src/sources/heat-footprint.js";
import { makePlateGrid } from "../../../src/sources/plate-grid.js";
import { plateRise } from "../../../src/sources/plate-rise.js";
import { factorPlate } from "../../../src/sources/plate-solver.js";
import {
  FIRST_STATE,
  FIVE_STEPS,
  PLATE_STATES,
  RISING_STEPS,
  risingConductance,
  statePenalty,
  statesBetween,
  stepsTo,
  TIMED_STEPS,
  timedStates,
  timedSteps,
  timePenalty,
} from "../../../src/sources/plate-state.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, VIEW } from "./relaxed-plate.js";
import { faultsOf, fitRise, modelOf, partOf, pictureOf } from "./small-model.js";

const WIDTH_MM = 40;
const HEIGHT_MM = 24;
const grid = makePlateGrid(BOARD.outline);
/** C1 of the small board: 1.6 × 0.9 mm at (30, 5). */
const PART = { x: 30, y: 5, w: 1.6, h: 0.9 };
const footprint = heatFootprint(grid, partOf(modelOf(), "C1").polygon)!;

/** So many even steps. */
const even = (steps: number): typeof RISING_STEPS => ({ inTime: steps, weights: Array(steps).fill(1) });

/** Rise by backward steps, per watt and per perWatt (time ÷ capacity), times the board's area in m². */
function stepped(lengthMm: number, { inTime, weights }: typeof RISING_STEPS): Float64Array {
  const areaM2 = WIDTH_MM * HEIGHT_MM * 1e-6;
  return plateRise(grid, factorPlate(grid, lengthMm / Math.sqrt(inTime)), footprint, areaM2, weights);
}

/** The same by the cosine series of an insulated rectangle that heats up without losses (Carslaw & Jaeger 1959, from
 *  memory): 1 + Σ c·φ(x)·φ̄(source)·(1 − e^(−k²ℓ²))/(k²ℓ²), φ products of cosines, averaged over the source.
 */
function series(lengthMm: number, x: number, y: number): number {
  const mean = (k: number, from: number, size: number) =>
    k === 0 ? 1 : (Math.sin(k * (from + size)) - Math.sin(k * from)) / (k * size);
  let sum = 0;
  for (let n = 0; n < 160; n++) {
    const ky = (n * Math.PI) / HEIGHT_MM;
    for (let m = 0; m < 260; m++) {
      const kx = (m * Math.PI) / WIDTH_MM;
      const q = (kx * kx + ky * ky) * lengthMm * lengthMm;
      const count = (m === 0 ? 1 : 2) * (n === 0 ? 1 : 2);
      const shape = Math.cos(kx * x) * Math.cos(ky * y) * mean(kx, PART.x, PART.w) * mean(ky, PART.y, PART.h);
      sum += count * shape * (q === 0 ? 1 : (1 - Math.exp(-q)) / q);
    }
  }
  return sum;
}

describe("a plate that warms up, against the exact series", () => {
  const places = Array.from(grid.cellOf.keys()).filter((k) => k % 97 === 40);
  const at = (k: number) => {
    const cell = grid.cellOf[k]!;
    const column = cell % grid.columns;
    const row = Math.floor(cell / grid.columns);
    return [grid.x0Mm + column * grid.stepMm, grid.y0Mm + row * grid.stepMm] as const;
  };

  it.each([2.4, 4.8, 9.6])(
    "length %f mm: many steps come to it, the few of the fit to some per cent of the peak",
    (lengthMm) => {
      const many = stepped(lengthMm, even(40));
      const few = stepped(lengthMm, RISING_STEPS);
      const timed = stepped(lengthMm, TIMED_STEPS);
      const peak = many.reduce((a, b) => Math.max(a, b), 0);
      for (const k of places) {
        const exact = series(lengthMm, ...at(k));
        // Forty steps err by a fortieth of what three do; cells of 0.46 mm beside a part of 1.6 mm by some per mille.
        expect(Math.abs(many[k]! - exact)).toBeLessThan(0.006 * peak);
        expect(Math.abs(few[k]! - exact)).toBeLessThan(0.05 * peak);
        expect(Math.abs(timed[k]! - exact)).toBeLessThan(0.01 * peak);
      }
    },
  );

  it.each([even(1), RISING_STEPS, TIMED_STEPS, even(12)])(
    "in steps %j no heat is lost: the mean is watts × time over capacity",
    (steps) => {
      const rise = stepped(6.8, steps);
      // The mean of what one watt makes, in units of perWatt ÷ area: 1, up to the cells' area against the board's.
      const cellsMm2 = grid.cellOf.length * grid.stepMm ** 2;
      const mean = rise.reduce((a, b) => a + b, 0) / rise.length;
      expect(mean * (cellsMm2 / (WIDTH_MM * HEIGHT_MM))).toBeCloseTo(1, 8);
      expect(Math.min(...rise)).toBeGreaterThan(0);
    },
  );
});

describe("TIMED_STEPS", () => {
  // The exact answer of every wave of constant power, (1 − e^(−z)) ÷ z, against Σ weight · (1 + z ÷ inTime)^(−k), of
  // mean 1.
  it.each([
    ["three even steps", RISING_STEPS, 0.1],
    ["the steps for a known time", TIMED_STEPS, 0.019],
    ["the steps for a time that the shape tells", FIVE_STEPS, 0.0021],
  ])("%s: every wave as the exact answer, up to a share", (_, { inTime, weights }, least) => {
    const sum = weights.reduce((a, b) => a + b, 0);
    let worst = 0;
    for (let z = 1e-3; z < 1e3; z *= 1.05) {
      const stepsTo = weights.reduce((all, w, k) => all + w * (1 + z / inTime) ** (k - weights.length), 0);
      worst = Math.max(worst, Math.abs((stepsTo / sum) * (z / -Math.expm1(-z)) - 1));
    }
    expect(worst).toBeLessThan(least);
    expect(worst).toBeGreaterThan(0.9 * least);
  });
});

describe("PLATE_STATES and statePenalty", () => {
  it("states of one kind lie close enough that none is missed by more than a third, and begin at the first", () => {
    for (const kind of ["rising", "steady"] as const) {
      const lengths = PLATE_STATES.filter((state) => state.kind === kind).map((state) => state.lengthMm);
      for (let k = 1; k < lengths.length; k++) {
        expect(lengths[k]! / lengths[k - 1]!).toBeGreaterThan(1.2);
        expect(lengths[k]! / lengths[k - 1]!).toBeLessThan(1.33 ** 2);
      }
    }
    expect(PLATE_STATES).toContain(FIRST_STATE);
  });

  it("a length that the map tells is preferred, and the more so the nearer", () => {
    const steady = PLATE_STATES.filter(({ kind }) => kind === "steady");
    const told = steady[3]!;
    const penalties = steady.map((state) => statePenalty(state, told.lengthMm));
    expect(penalties[3]).toBe(0);
    expect(penalties[0]!).toBeGreaterThan(penalties[1]!);
    expect(penalties[1]!).toBeGreaterThan(penalties[2]!);
    expect(penalties[4]!).toBeGreaterThan(0);
    // Untold it may as well be another.
    expect(statePenalty(steady[1]!, null)).toBeLessThan(penalties[1]!);
    for (const state of PLATE_STATES) expect(statePenalty(state, null)).toBeGreaterThanOrEqual(0);
  });

  it("a known time speaks for the spread of that time, and against rest before the plate can have come to it", () => {
    const known = (timeConstants: number) => ({ timeConstants, risingMm: 27 * Math.sqrt(timeConstants) });
    const rising = PLATE_STATES.filter(({ kind }) => kind === "rising");
    const nearest = (timeConstants: number) =>
      rising.reduce((a, b) =>
        statePenalty(b, null, known(timeConstants)) < statePenalty(a, null, known(timeConstants)) ? b : a,
      ).lengthMm;
    expect(nearest(0.015)).toBe(3.4);
    expect(nearest(0.125)).toBe(9.6);
    const rest = PLATE_STATES.find(({ kind, lengthMm }) => kind === "steady" && lengthMm === 26)!;
    expect(statePenalty(rest, null, known(0.2))).toBeGreaterThan(16);
    expect(statePenalty(rest, null, known(4))).toBe(statePenalty(rest, null));
  });
});

describe("timedStates", () => {
  const model = modelOf();
  const restMm = 20;
  const states = timedStates(restMm);

  it("go from the first second to rest, each twice as long after power-on as the one before", () => {
    const times = states.map(({ timeConstants }) => timeConstants!);
    expect(restMm * Math.sqrt(times[0]!)).toBeLessThan(2);
    expect(times.at(-1)).toBeGreaterThan(10);
    for (let k = 1; k < times.length - 1; k++) expect(times[k]! / times[k - 1]!).toBeCloseTo(2, 9);
    expect(states.at(-1)).toMatchObject({ kind: "steady", lengthMm: restMm });
    expect(states[0]!.kind).toBe("rising");
  });

  /** One watt in U2 at a time since power-on, in time constants, computed in so many steps. */
  const riseAt = (x: number, { inTime, weights }: typeof RISING_STEPS): Float64Array => {
    const keep = 1 / (1 + x / inTime);
    const solver = factorPlate(model.grid, (restMm * Math.sqrt(x * keep)) / Math.sqrt(inTime));
    return plateRise(model.grid, solver, partOf(model, "U2").footprint, -Math.expm1(-x) / 20, weights, keep);
  };

  it.each([0.05, 0.4, 1.5, 6])("%f time constants after power-on: mean exact, peak to some percent", (x) => {
    const few = riseAt(x, RISING_STEPS);
    const many = riseAt(x, even(150));
    const mean = (values: Float64Array): number => values.reduce((a, b) => a + b, 0) / values.length;
    const top = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);
    // The board of 40 × 24 mm loses 20 W/m²K: what is fed less what is lost stays.
    expect(mean(few)).toBeCloseTo(-Math.expm1(-x) / (20 * 0.04 * 0.024), 0);
    expect(mean(many) / mean(few)).toBeCloseTo(1, 2);
    // Three backward steps let the heat spread a little farther at first.
    expect(Math.abs(top(few) / top(many) - 1)).toBeLessThan(0.08);
    const timed = riseAt(x, TIMED_STEPS);
    expect(mean(timed) / mean(few)).toBeCloseTo(1, 9);
    expect(Math.abs(top(timed) / top(many) - 1)).toBeLessThan(0.02);
  });

  // Σ over waves of length z beyond the mean's: exact answer (1 − e^(−z)) ÷ z, in steps Σ weight · (1 + z ÷
  // inTime)^(−k).
  it.each([
    [1, 0.038],
    [4, 0.032],
    [5.9, 0.037],
    [8, 0.021],
    [16, 0.005],
  ])("in a known time, %f time constants: every wave against the mean to a share of %f", (x, least) => {
    const state = timedSteps({ kind: "steady", lengthMm: restMm, timeConstants: x });
    const { inTime, weights } = stepsTo(state);
    const off = (z: number): number =>
      weights.reduce((all, w, k) => all + w * (1 + z / inTime) ** (k - weights.length), 0) *
      (z / -Math.expm1(-z));
    let worst = 0;
    for (let z = x; z < 1e4; z *= 1.03) worst = Math.max(worst, Math.abs(off(z) / off(x) - 1));
    expect(worst).toBeLessThan(least);
  });

  it.each([0.05, 0.3, 1, 2, 6, 16])("in a time that the shape tells, %f time constants: to 0.5 %%", (x) => {
    const { inTime, weights } = FIVE_STEPS;
    const off = (z: number): number =>
      weights.reduce((all, w, k) => all + w * (1 + z / inTime) ** (k - weights.length), 0) *
      (z / -Math.expm1(-z));
    for (let z = x; z < 1e4; z *= 1.03) expect(Math.abs(off(z) / off(x) - 1)).toBeLessThan(0.005);
  });

  it("states between some lie about 1.6 of time apart, from half a step before them to one beyond, up to rest, and before the first of all", () => {
    const times = (some: ReturnType<typeof timedStates>) => {
      const between = statesBetween(some, restMm);
      for (const { steps } of between) expect(steps).toBe("five");
      return between.map(({ timeConstants }) => timeConstants!);
    };
    const middle = times(states.slice(2, 4));
    // Two and a half steps of the search, in four.
    expect(middle).toHaveLength(4);
    expect(middle[0]! / states[2]!.timeConstants!).toBeCloseTo(2 ** (-0.5 + 2.5 / 8), 9);
    for (let k = 1; k < 4; k++) expect(middle[k]! / middle[k - 1]!).toBeCloseTo(2 ** (2.5 / 4), 9);
    const first = times(states.slice(0, 1));
    expect(restMm * Math.sqrt(first[0]!)).toBeLessThan(1);
    expect(first.at(-1)!).toBeGreaterThan(states[0]!.timeConstants!);
    expect(Math.max(...times(states.slice(-2)))).toBeLessThan(states.at(-1)!.timeConstants!);
  });

  it.each([8, 16])("%f time constants, in a known time: peak to a percent of many steps", (x) => {
    const top = (values: Float64Array): number => values.reduce((a, b) => Math.max(a, b), 0);
    const few = top(riseAt(x, stepsTo(timedSteps({ kind: "steady", lengthMm: restMm, timeConstants: x }))));
    expect(Math.abs(few / top(riseAt(x, even(150))) - 1)).toBeLessThan(0.01);
  });

  it("after many time constants it is the plate at rest", () => {
    const at = (timeConstants: number | null): Float32Array =>
      model.plateColumn(
        partOf(model, "U2"),
        timeConstants === null
          ? { kind: "steady", lengthMm: restMm }
          : { kind: "steady", lengthMm: restMm, timeConstants },
      ).values;
    const late = at(2000);
    const rest = at(null);
    const most = rest.reduce((a, b) => Math.max(a, b), 0);
    // One backward step as long as many time constants is the steady equation to their inverse.
    rest.forEach((value, i) => {
      expect(Math.abs(late[i]! - value)).toBeLessThan(0.01 * most);
    });
  });

  it("a known time is preferred, and the more so the nearer; an unknown one hardly", () => {
    expect(timePenalty(30, 30)).toBe(0);
    expect(timePenalty(60, 30)).toBeGreaterThan(timePenalty(40, 30));
    expect(timePenalty(60, null)).toBeLessThan(timePenalty(60, 30));
  });
});

describe("fitSources on a plate that still warms up", () => {
  it.each([
    ["C1", 0.1, 3.9],
    ["U2", 0.4, 8],
  ])(
    "%s with %f W, %f mm since power-on: tells it from a plate at rest, and the watts by the time",
    (ref, watts, lengthMm) => {
      const conductance = 0.008;
      const heatCapacityJPerM2K = 2000;
      // Length² is conductance ÷ capacity × time.
      const timeS = ((lengthMm * 1e-3) ** 2 * heatCapacityJPerM2K) / conductance;
      const board = { ...BOARD, plate: { lossWPerM2K: 20, heatCapacityJPerM2K } };
      const model = modelOf(board, [pictureOf(VIEW)], timeS);
      const part = partOf(model, ref);
      const solver = factorPlate(model.grid, lengthMm / Math.sqrt(40));
      const rise = plateRise(
        model.grid,
        solver,
        part.footprint,
        timeS / heatCapacityJPerM2K,
        even(40).weights,
      );
      const { seen } = model.pictures[0]!;
      const onBoard = new Float32Array(seen.pixels.length);
      showPlate(
        seen,
        rise.map((v) => watts * v),
        onBoard,
      );
      const shown = new Float32Array(model.size);
      onBoard.forEach((value, k) => {
        shown[seen.pixels[k]!] = value;
      });
      part.body!.at!.forEach((pixel, k) => {
        shown[pixel]! += 20 * watts * part.body!.values[k]!;
      });
      const random = makeRandom("warming up");
      const fit = fitRise(
        model,
        shown.map((v) => v + 0.04 * random.normal()),
      );
      expect(faultsOf(fit)).toEqual([ref]);
      expect(fit.state.kind).toBe("rising");
      // Three steps of time for forty, and lengths in steps of 1.4: a fifth.
      expect(Math.abs(fit.sources[0]!.powerW / watts - 1)).toBeLessThan(0.2);
    },
  );
});

describe("risingConductance", () => {
  const usual = (lengthMm: number) => risingConductance(lengthMm, 0.01, 2400);

  it("is the usual one where heat went as far as in usual plates after the usual time", () => {
    // √(0.01 W/K × 11 s ÷ 2400 J/m²K) = 6.77 mm.
    expect(usual(1e3 * Math.sqrt((0.01 * 11) / 2400))).toBeCloseTo(0.01, 9);
    expect(usual(3)).toBeLessThan(0.0075);
    expect(usual(13.6)).toBeGreaterThan(0.014);
  });

  it("is the mean of what plates and times drawn from what is usual have, of those that spread heat so far", () => {
    const random = makeRandom("conductances of rising plates");
    const logs = new Map([3.4, 6.8, 13.6].map((length) => [length, [0, 0] as [number, number]]));
    for (let i = 0; i < 60_000; i++) {
      const logK = Math.log(0.01) + 0.9 * random.normal();
      const logT = Math.log(11) + 1.4 * random.normal();
      const lengthMm = 1e3 * Math.sqrt(Math.exp(logK + logT) / 2400);
      for (const [near, sums] of logs) {
        if (Math.abs(Math.log(lengthMm / near)) > 0.15) continue;
        sums[0] += logK;
        sums[1]++;
      }
    }
    for (const [length, [sum, count]] of logs) {
      expect(count).toBeGreaterThan(1000);
      // Means of more than a thousand that scatter by 0.76.
      expect(Math.abs(Math.log(usual(length)) - sum / count)).toBeLessThan(0.08);
    }
  });
});
