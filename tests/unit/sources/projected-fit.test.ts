import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { type Column, wholeColumn } from "../../../src/sources/column.js";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { makeRandom } from "../../simulate/random.js";

describe("ProjectedFit", () => {
  const n = 90;
  const random = makeRandom("a small dense problem");
  const column = () => Float32Array.from({ length: n }, () => random.normal());
  const data = column();
  const variance = Float32Array.from({ length: n }, () => random.uniform(0.2, 3));
  const nuisance = [0.5, 3, 0.08].map((priorSigma) => ({
    what: "smooth" as const,
    column: wholeColumn(column()),
    priorSigma,
  }));
  const heat = [column(), column()];

  /** All columns at once: (XᵀWX + P)·β = XᵀWy by the dense solver of another library. */
  function dense(heatColumns: readonly Float32Array[], takesPart: (i: number) => boolean) {
    const rows = [...Array(n).keys()].filter(takesPart);
    const columns = [...heatColumns, ...nuisance.map((c) => c.column.values)];
    const x = new Matrix(rows.map((i) => columns.map((c) => c[i]! / Math.sqrt(variance[i]!))));
    const y = new Matrix(rows.map((i) => [data[i]! / Math.sqrt(variance[i]!)]));
    const gram = x.transpose().mmul(x);
    nuisance.forEach(({ priorSigma }, k) => {
      const at = heatColumns.length + k;
      gram.set(at, at, gram.get(at, at) + 1 / priorSigma ** 2);
    });
    const right = x.transpose().mmul(y);
    const beta = solve(gram, right).getColumn(0);
    return {
      beta,
      residual: (i: number) => columns.reduce((left, c, k) => left - beta[k]! * c[i]!, data[i]!),
      // χ² with its penalty at the optimum: yᵀWy − βᵀXᵀWy.
      chi2: y.transpose().mmul(y).get(0, 0) - right.getColumn(0).reduce((sum, r, k) => sum + r * beta[k]!, 0),
    };
  }

  it("small systems in the heat alone give the answer of the full one with priors", () => {
    const fit = new ProjectedFit(data, variance, nuisance);
    const [a, b] = heat.map((values) => fit.project(wholeColumn(values)));
    const solved = solve(
      new Matrix([
        [a!.norm, fit.cross(a!, b!)],
        [fit.cross(b!, a!), b!.norm],
      ]),
      new Matrix([[a!.withData], [b!.withData]]),
    ).getColumn(0);
    const full = dense(heat, () => true);
    // Columns are held in single precision: 90 products, 6e-8 each.
    expect(Math.abs(solved[0]! - full.beta[0]!)).toBeLessThan(1e-5);
    expect(Math.abs(solved[1]! - full.beta[1]!)).toBeLessThan(1e-5);
    const left = fit.residual([a!, b!], solved);
    for (let i = 0; i < n; i++) expect(Math.abs(left[i]! - full.residual(i))).toBeLessThan(1e-5);
  });

  it("what heat takes off χ² is what the full fits differ by", () => {
    const fit = new ProjectedFit(data, variance, nuisance);
    const a = fit.project(wholeColumn(heat[0]!));
    const gain = dense([], () => true).chi2 - dense([heat[0]!], () => true).chi2;
    expect(Math.abs(a.withData ** 2 / a.norm / gain - 1)).toBeLessThan(1e-4);
  });

  it("pixels without a reading or a variance take no part", () => {
    const holedData = Float32Array.from(data);
    const holedVariance = Float32Array.from(variance);
    holedData[7] = Number.NaN;
    holedVariance[30] = Number.POSITIVE_INFINITY;
    holedVariance[31] = 0;
    holedVariance[32] = Number.NaN;
    const out = new Set([7, 30, 31, 32]);
    const fit = new ProjectedFit(holedData, holedVariance, nuisance);
    expect(fit.count).toBe(n - 4);
    const a = fit.project(wholeColumn(heat[0]!));
    const full = dense([heat[0]!], (i) => !out.has(i));
    expect(Math.abs(a.withData / a.norm - full.beta[0]!)).toBeLessThan(1e-5);
    const left = fit.residual([a], [a.withData / a.norm]);
    left.forEach((value, i) => {
      expect(Number.isNaN(value)).toBe(out.has(i));
    });
  });

  it("a nuisance that is certain to be nothing changes nothing; one that is free takes its own shape away", () => {
    const values = column();
    const shape = (priorSigma: number) => [
      { what: "smooth" as const, column: wholeColumn(values), priorSigma },
    ];
    const held = new ProjectedFit(data, variance, shape(1e-9)).project(wholeColumn(heat[0]!));
    const bare = heat[0]!.reduce((sum, v, i) => sum + v ** 2 / variance[i]!, 0);
    expect(Math.abs(held.norm / bare - 1)).toBeLessThan(1e-5);
    const free = new ProjectedFit(data, variance, shape(1e6)).project(wholeColumn(values));
    expect(free.norm / bare).toBeLessThan(1e-4);
  });

  it("columns that leave out their zeros give what whole ones give, beside pixels without a reading", () => {
    const holedData = Float32Array.from(data);
    for (const i of [3, 20, 21, 58]) holedData[i] = Number.NaN;
    const windows = [
      [0, 24],
      [17, 61],
      [40, 88],
    ] as const;
    const whole = windows.map(([from, to]) => column().map((v, i) => (i >= from && i < to ? v : 0)));
    const sparse = whole.map(withoutZeros);
    const comb = column().map((v, i) => (i % 3 === 0 ? v : 0));
    const asWhole = [...nuisance, { ...nuisance[0]!, column: wholeColumn(comb) }];
    const asSparse = [...nuisance, { ...nuisance[0]!, column: withoutZeros(comb) }];
    const a = new ProjectedFit(holedData, variance, asWhole);
    const b = new ProjectedFit(holedData, variance, asSparse);
    const inA = whole.map((values) => a.project(wholeColumn(values)));
    const inB = sparse.map((c) => b.project(c));
    // The same single-precision numbers, added up in another order in double.
    for (let k = 0; k < 3; k++) {
      expect(inB[k]!.norm / inA[k]!.norm).toBeCloseTo(1, 10);
      expect(inB[k]!.withData).toBeCloseTo(inA[k]!.withData, 9);
      for (let j = 0; j < k; j++) expect(b.cross(inB[k]!, inB[j]!)).toBeCloseTo(a.cross(inA[k]!, inA[j]!), 9);
    }
    const amounts = [0.7, -1.3, 2.1];
    const [left, leftB] = [a.residual(inA, amounts), b.residual(inB, amounts)];
    const [heatA, heatB] = [a.heat(inA, amounts), b.heat(inB, amounts)];
    for (let i = 0; i < n; i++) {
      expect(Number.isNaN(leftB[i])).toBe(Number.isNaN(holedData[i]));
      // Sums of six single-precision terms of a few units.
      if (!Number.isNaN(left[i])) expect(Math.abs(leftB[i]! - left[i]!)).toBeLessThan(1e-5);
      expect(Math.abs(heatB[i]! - heatA[i]!)).toBeLessThan(1e-5);
    }
  });

  it("products taken together are those taken one by one, to the last bit", () => {
    const [one, together] = [0, 1].map(() => new ProjectedFit(data, variance, nuisance));
    const few = withoutZeros(heat[0]!.map((value, i) => (i % 5 === 0 ? value : 0)));
    const whole = [...heat, ...heat.map((values) => values.map((value, i) => value * Math.cos(i)))];
    const columns = [...whole.map(wholeColumn), few];
    const a = columns.map((column) => one!.project(column));
    const b = columns.map((column) => together!.project(column));
    // Of what covers a few pixels only the products with all others are taken one by one, whitened before or not.
    together!.crossAll(b, [b[0]!, b.at(-1)!, b[1]!]);
    for (const j of [0, columns.length - 1, 1]) {
      for (const i of columns.keys()) {
        if (i !== j) expect(together!.cross(b[i]!, b[j]!)).toBe(one!.cross(a[i]!, a[j]!));
      }
    }
    // Whitened by now, as the residual wants them.
    together!.residual(
      b,
      b.map(() => 1),
    );
    const again = new ProjectedFit(data, variance, nuisance);
    const c = columns.map((column) => again.project(column));
    again.residual(
      c,
      c.map(() => 1),
    );
    expect(again.cross(c.at(-1)!, c[2]!)).toBe(together!.cross(b.at(-1)!, b[2]!));
  });

  it("a column is made ready once, and a product taken from either side is one number", () => {
    const fit = new ProjectedFit(data, variance, nuisance);
    const ready = heat.map((values) => wholeColumn(values));
    const [a, b] = ready.map((c) => fit.project(c));
    expect(fit.project(ready[0]!)).toBe(a);
    expect(fit.cross(a!, b!)).toBe(fit.cross(b!, a!));
  });
});

function withoutZeros(values: Float32Array): Column {
  const at = Int32Array.from([...values.keys()].filter((i) => values[i] !== 0));
  return { at, values: Float32Array.from(at, (i) => values[i]!) };
}
