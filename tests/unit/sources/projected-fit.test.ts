import { Matrix, solve } from "ml-matrix";
import { describe, expect, it } from "vitest";
import { ProjectedFit } from "../../../src/sources/projected-fit.js";
import { residualScale } from "../../../src/sources/residual-scale.js";
import { makeRandom } from "../../simulate/random.js";

describe("ProjectedFit", () => {
  const n = 90;
  const random = makeRandom("a small dense problem");
  const column = () => Float32Array.from({ length: n }, () => random.normal());
  const data = column();
  const variance = Float32Array.from({ length: n }, () => random.uniform(0.2, 3));
  const nuisance = [0.5, 3, 0.08].map((priorSigma) => ({
    what: "smooth" as const,
    ref: null,
    values: column(),
    priorSigma,
  }));
  const heat = [column(), column()];

  /** All columns at once: (XᵀWX + P)·β = XᵀWy by the dense solver of another library. */
  function dense(heatColumns: readonly Float32Array[], takesPart: (i: number) => boolean) {
    const rows = [...Array(n).keys()].filter(takesPart);
    const columns = [...heatColumns, ...nuisance.map((c) => c.values)];
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
    const [a, b] = heat.map((values) => fit.project(values));
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
    const a = fit.project(heat[0]!);
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
    const a = fit.project(heat[0]!);
    const full = dense([heat[0]!], (i) => !out.has(i));
    expect(Math.abs(a.withData / a.norm - full.beta[0]!)).toBeLessThan(1e-5);
    const left = fit.residual([a], [a.withData / a.norm]);
    left.forEach((value, i) => {
      expect(Number.isNaN(value)).toBe(out.has(i));
    });
  });

  it("a nuisance that is certain to be nothing changes nothing; one that is free takes its own shape away", () => {
    const values = column();
    const shape = (priorSigma: number) => [{ what: "smooth" as const, ref: null, values, priorSigma }];
    const held = new ProjectedFit(data, variance, shape(1e-9)).project(heat[0]!);
    const bare = heat[0]!.reduce((sum, v, i) => sum + v ** 2 / variance[i]!, 0);
    expect(Math.abs(held.norm / bare - 1)).toBeLessThan(1e-5);
    const free = new ProjectedFit(data, variance, shape(1e6)).project(values);
    expect(free.norm / bare).toBeLessThan(1e-4);
  });
});

describe("residualScale", () => {
  const width = 120;
  const height = 90;
  const random = makeRandom("residuals");
  const white = Float32Array.from({ length: width * height }, () => 0.05 * random.normal());
  const stated = new Float32Array(width * height).fill(0.05 ** 2);

  it("about 1 for white noise of the stated variance", () => {
    const scale = residualScale(white, stated, width);
    // 300 blocks, each a χ² of one degree of freedom (relative spread √2): 8 %, and never below 1.
    expect(scale).toBeGreaterThanOrEqual(1);
    expect(scale).toBeLessThan(1.25);
  });

  it("as many times more as the variance is larger than stated", () => {
    expect(
      residualScale(
        white.map((v) => 3 * v),
        stated,
        width,
      ),
    ).toBeGreaterThan(9 * 0.75);
    expect(
      residualScale(
        white.map((v) => 3 * v),
        stated,
        width,
      ),
    ).toBeLessThan(9 * 1.25);
  });

  it("larger where neighbours err together, though each pixel's variance is as stated", () => {
    const blocky = Float32Array.from(white, (_, i) => {
      const block = Math.floor(Math.floor(i / width) / 3) * width + Math.floor((i % width) / 3);
      return white[block % white.length]!;
    });
    // Nine equal neighbours: a block's sum has nine times the variance.
    expect(residualScale(blocky, stated, width)).toBeGreaterThan(5);
  });

  it("one strong spot that is not yet explained hardly raises it", () => {
    const spot = Float32Array.from(white, (v, i) => {
      const r2 = ((i % width) - 60) ** 2 + (Math.floor(i / width) - 45) ** 2;
      // 3 px wide: above the noise over 450 of the 10 800 pixels, in fewer than a tenth of the blocks.
      return v + 20 * Math.exp(-r2 / 18);
    });
    expect(residualScale(spot, stated, width) / residualScale(white, stated, width)).toBeLessThan(1.5);
  });

  it("too little to tell, or no reading: 1", () => {
    expect(residualScale(white.slice(0, 60), stated.slice(0, 60), 10)).toBe(1);
    expect(
      residualScale(
        white.map(() => Number.NaN),
        stated,
        width,
      ),
    ).toBe(1);
  });
});
