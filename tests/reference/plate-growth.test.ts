// Reference: growth of heat on a thin plate, and the course that is fitted to it, against worked values.
import { describe, expect, it } from "vitest";
import { fitOnset } from "../../src/rise/fit-onset.js";
import { growthAt } from "../../src/rise/growth-shapes.js";
import { gaussianSourceRise } from "../simulate/gaussian-source-rise.js";
import { expIntegral } from "./expint.js";

// Plate: 0.5 W, k = 20 W/mK, 1 mm thick, ρ = 1900 kg/m³, c = 1150 J/kgK; Gaussian source of 1.5 mm.
const CONDUCTANCE = 20 * 1e-3;
const DIFFUSIVITY = 20 / (1900 * 1150);

describe("Gaussian source on an infinite plate without loss", () => {
  // P/(4πkd)·ln(1 + 2αt/s²), derived from the instantaneous line source of Carslaw & Jaeger 1959, §10.3 (section from
  // memory); values computed with mpmath from that closed form, 9 digits printed.
  it.each([
    [1, 4.4011387],
    [5, 7.42070927],
    [10, 8.77567268],
    [60, 12.3200336],
  ])("after %f s the centre stands %f K higher", (timeS, riseK) => {
    expect(gaussianSourceRise(0.5, CONDUCTANCE, DIFFUSIVITY, 1.5e-3, timeS)).toBeCloseTo(riseK, 7);
  });

  it("far from a point it tends to the line source, P/(4πkd)·E₁(r²/4αt)", () => {
    // Theis 1935, Trans. AGU 16:519 (from memory); 3.46806156 K at 2 mm after 1 s. A source of s = 2 mm·√(e^γ/2) has
    // the same centre as the point source at r for large t: ln(1 + 2αt/s²) → ln(4αt/r²) − γ.
    const late = 1e4;
    const r = 2e-3;
    const s = r * Math.sqrt(Math.exp(0.5772156649015329) / 2);
    const point = (0.5 / (4 * Math.PI * CONDUCTANCE)) * expIntegral((r * r) / (4 * DIFFUSIVITY * late));
    expect(gaussianSourceRise(0.5, CONDUCTANCE, DIFFUSIVITY, s, late)).toBeCloseTo(point, 4);
    const early = (0.5 / (4 * Math.PI * CONDUCTANCE)) * expIntegral((r * r) / (4 * DIFFUSIVITY));
    expect(early).toBeCloseTo(3.46806156, 7);
  });

  it("a body follows 1 − e^(−t/τ): 0.632120559, 0.864664717, 0.950212932 after τ, 2τ, 3τ", () => {
    for (const [n, share] of [
      [1, 0.632120559],
      [2, 0.864664717],
      [3, 0.950212932],
    ] as const) {
      expect(growthAt("body", 0.7 * n, 0.7)).toBeCloseTo(share, 9);
    }
  });

  it("nothing before the onset, and seen against its surroundings it levels off at ln 3", () => {
    for (const shape of ["plate", "spot", "body"] as const) expect(growthAt(shape, -0.1, 2)).toBe(0);
    expect(growthAt("spot", 1e9, 0.3)).toBeCloseTo(Math.log(3), 6);
  });
});

describe("the course with loss, 4.38791417, 7.33899293, 8.60743417 K after 1, 5, 10 s", () => {
  // The same plate with h₁ + h₂ = 20 W/m²K, τ_c = 109.25 s: P/(4πkd)·eˣ[E₁(x) − E₁(x + t/τ_c)], x = s²/2L² (derived,
  // and computed with mpmath); the fit knows nothing of loss.
  const lossRise = (t: number) => {
    if (t <= 0) return 0;
    const x = 1.5e-3 ** 2 / (2 * (CONDUCTANCE / 20));
    const difference = expIntegral(x) - expIntegral(x + t / 109.25);
    return (0.5 / (4 * Math.PI * CONDUCTANCE)) * Math.exp(x) * difference;
  };
  it("is the published one", () => {
    expect(lossRise(1)).toBeCloseTo(4.38791417, 6);
    expect(lossRise(5)).toBeCloseTo(7.33899293, 6);
    expect(lossRise(10)).toBeCloseTo(8.60743417, 6);
  });

  it.each([0.9, 2.35])(
    "switched on at %f s: onset and first second's rate come back from frames without noise",
    (onsetS) => {
      const timesS = Float64Array.from({ length: 24 }, (_, k) => (k + 0.5) / 3);
      const riseK = timesS.map((t) => lossRise(t - onsetS));
      const found = fitOnset(timesS, riseK, new Float64Array(24).fill(0.02), 0.02, 0.001)!;
      // Frames lie 0.33 s apart, and loss is no part of the model: a tenth of an interval.
      expect(Math.abs(found.onsetS - onsetS)).toBeLessThan(0.035);
      // The rate over the first second is the rise after it, within the model's 2 %.
      expect(found.rateKPerS / lossRise(1)).toBeGreaterThan(0.97);
      expect(found.rateKPerS / lossRise(1)).toBeLessThan(1.03);
    },
  );
});
