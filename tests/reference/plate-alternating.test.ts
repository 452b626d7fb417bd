// The plate whose heat goes as a sine, against its exact answer. On an infinite plate P·exp(iωt) at a point makes
// θ(r) = P/(2πK)·K0(r·√i/ℓ), ℓ = √(K/(ωc)) (Carslaw & Jaeger 1959, ch. X, from memory), and K0(x·√i) = ker x + i·kei x
// (DLMF 10.61.2); ker and kei of order 0 as Abramowitz & Stegun, table 9.12, has them, here from SciPy 1.10
// (`special.ker`, `special.kei`). The mean over an insulated board is P/(A·(iωc + h)), from the balance of energy.
import { describe, expect, it } from "vitest";
import { AlternatingColumns } from "../../src/sources/alternating-columns.js";
import { heatFootprint } from "../../src/sources/heat-footprint.js";
import type { Picture } from "../../src/sources/picture.js";
import { makePlateGrid } from "../../src/sources/plate-grid.js";

/** x, ker x, kei x. */
const KELVIN = [
  [0.5, 0.8559058721186341, -0.6715816950943675],
  [1, 0.28670620872831604, -0.49499463651872],
  [2, -0.04166451399150959, -0.20240006776470437],
  [3, -0.06702923330379883, -0.0511218840459868],
] as const;

const square = (side: number): [number, number][] => [
  [0, 0],
  [side, 0],
  [side, side],
  [0, side],
];

const PER_WATT = 1e-3;

/** A picture that shows each cell of the plate as it is. */
function cellsAsPicture(n: number): Picture {
  const pixels = Int32Array.from({ length: n }, (_, k) => k);
  const unknowns = new Int32Array(4 * n).fill(-1);
  const weights = new Float32Array(4 * n);
  pixels.forEach((k) => {
    unknowns[4 * k] = k;
    weights[4 * k] = 1;
  });
  const seen = { pixels, unknowns, weights, shown: new Float32Array(n).fill(1) };
  return { seen, at: pixels, offset: 0 } as unknown as Picture;
}

function columnsOn(side: number, shortSideCells: number) {
  const grid = makePlateGrid(square(side), {
    shortSideCells: shortSideCells as 52,
    minStepMm: 0.1 as 0.4,
  });
  return { grid, columns: new AlternatingColumns(grid, [cellsAsPicture(grid.cellOf.length)]) };
}

describe("a plate on which heat goes as a sine", () => {
  it("far from its edges is that of the Kelvin functions", () => {
    const [side, lengthMm] = [30, 2.5];
    const { grid, columns } = columnsOn(side, 121);
    // The middle cell.
    const [x, y] = [15, 15];
    const small = square(0.02).map(([u, v]): [number, number] => [x + u - 0.01, y + v - 0.01]);
    const [real, imaginary] = columns.quadratures(heatFootprint(grid, small)!, {
      lengthMm,
      lossShare: 0,
      perWatt: PER_WATT,
    });
    const scale = PER_WATT / (2 * Math.PI * (lengthMm * 1e-3) ** 2);
    for (const [distance, ker, kei] of KELVIN) {
      const u = (x + distance * lengthMm - grid.x0Mm) / grid.stepMm;
      const row = Math.round((y - grid.y0Mm) / grid.stepMm);
      const at = (values: Float32Array) => {
        const [left, right] = [0, 1].map(
          (k) => values[grid.unknownOf[row * grid.columns + Math.floor(u) + k]!]!,
        );
        return left! + (u - Math.floor(u)) * (right! - left!);
      };
      // Cells of a tenth of the length: five-point differences and straight lines between cells err by a hundredth of
      // that near the source, where θ curves most.
      expect(Math.abs(at(real) / scale - ker)).toBeLessThan(0.006);
      expect(Math.abs(at(imaginary) / scale - kei)).toBeLessThan(0.006);
    }
  });

  it.each([0, 0.15])("as a whole is late by what is held and lost, lost ÷ held %f", (lossShare) => {
    const side = 20;
    const { grid, columns } = columnsOn(side, 40);
    const part = square(4).map(([u, v]): [number, number] => [u + 2, v + 9]);
    const both = columns.quadratures(heatFootprint(grid, part)!, {
      lengthMm: 3,
      lossShare,
      perWatt: PER_WATT,
    });
    const cellM2 = (grid.stepMm * 1e-3) ** 2;
    const [real, imaginary] = both.map((values) => values.reduce((sum, one) => sum + one, 0) * cellM2);
    const square2 = 1 + lossShare ** 2;
    expect(real! / PER_WATT).toBeCloseTo(lossShare / square2, 5);
    expect(imaginary! / PER_WATT).toBeCloseTo(-1 / square2, 5);
  });
});
