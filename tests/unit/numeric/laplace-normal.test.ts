import { describe, expect, it } from "vitest";
import { laplaceNormalDensity } from "../../../src/numeric/laplace-normal.js";

describe("laplaceNormalDensity", () => {
  // The convolution integral by adaptive quadrature: scipy 1.10.1, integrate.quad over
  // stats.laplace.pdf·stats.norm.pdf, to 1e-12.
  it.each([
    [0, 0.5, 0.1, 0.858479616467],
    [0.3, 0.05, 0.2, 0.687204946236],
    [2.1, 0.4, 0.3, 0.00868979049515],
    [-1.7, 0.9, 0.4, 0.0927430579039],
    [6, 0.02, 1, 6.16200934463e-9],
    [9, 1.5, 0.7, 0.00092130132858],
  ])("at %f, of scale %f and noise %f", (x, scale, sigma, density) => {
    expect(laplaceNormalDensity(x, scale, sigma) / density).toBeCloseTo(1, 5);
  });

  it("is the normal density where the Laplace part is far below the noise, and finite far out", () => {
    const normal = (z: number) => Math.exp(-0.5 * z * z) / Math.sqrt(2 * Math.PI);
    // Its variance is greater by twice the square of the least scale: 2e-4 of it.
    for (const z of [0, 1.3, 2.7]) expect(laplaceNormalDensity(z, 0, 1) / normal(z)).toBeCloseTo(1, 2);
    for (const x of [40, 400, 1e6]) expect(laplaceNormalDensity(x, 0.3, 0.2)).toBeGreaterThanOrEqual(0);
  });

  it("falls as a Laplace deviate does far from the middle", () => {
    const ratio = laplaceNormalDensity(7.5, 0.5, 0.3) / laplaceNormalDensity(7, 0.5, 0.3);
    expect(ratio).toBeCloseTo(Math.exp(-1), 9);
  });
});
