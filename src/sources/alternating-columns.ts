// sources: footprints of one watt on a plate whose supply goes on and off → what the amplitude's picture shows of each.
import type { HeatFootprint } from "./heat-footprint.js";
import { type Picture, showOnPictures } from "./picture.js";
import type { PlateGrid } from "./plate-grid.js";
import { plateMatrix } from "./plate-solver.js";
import { type ComplexNumbers, factorComplexBand, solveComplexBand } from "./solve-complex-band.js";

/** How heat alternates on the plate. */
interface Alternation {
  /** √(conductance ÷ (2π ÷ period × heat capacity)), mm. */
  readonly lengthMm: number;
  /** Loss ÷ (2π ÷ period × heat capacity). */
  readonly lossShare: number;
  /** Mean amplitude over one square metre that one watt makes where nothing is lost, K·m²/W. */
  readonly perWatt: number;
}

type Both = readonly [Float32Array, Float32Array];

/** Makes columns of the plate that alternates. The plate answers to a sine of heat by a sine of rise:
 *  (i + lossShare − length²·∇²)·θ = perWatt·q. Near the source heat follows soon and is highest; the board as a whole
 *  is a quarter of a period late.
 */
export class AlternatingColumns {
  private readonly factors = new Map<number, ComplexNumbers>();
  private readonly shown = new Map<HeatFootprint, Map<number, Both>>();

  constructor(
    private readonly grid: PlateGrid,
    private readonly pictures: readonly Picture[],
  ) {}

  /** Compute θ for one watt in a footprint, real and imaginary; the same length only once.
   *  @returns K per W and pixel on the board, of all pictures; not to be modified.
   */
  quadratures(footprint: HeatFootprint, way: Alternation): Both {
    const byLength = this.shown.get(footprint) ?? new Map<number, Both>();
    this.shown.set(footprint, byLength);
    const both = byLength.get(way.lengthMm) ?? this.solve(footprint, way);
    byLength.set(way.lengthMm, both);
    return both;
  }

  private solve(footprint: HeatFootprint, way: Alternation): Both {
    const { cellOf, bandwidth, stepMm } = this.grid;
    const n = cellOf.length;
    const heat = new Float64Array(n);
    const cellM2 = (stepMm * 1e-3) ** 2;
    footprint.unknowns.forEach((unknown, k) => {
      heat[unknown]! += (way.perWatt * footprint.shares[k]!) / cellM2;
    });
    const { real, imaginary } = solveComplexBand(this.factor(way), n, bandwidth, heat);
    return [showOnPictures(this.pictures, real), showOnPictures(this.pictures, imaginary)];
  }

  private factor({ lengthMm, lossShare }: Alternation): ComplexNumbers {
    let factor = this.factors.get(lengthMm);
    if (factor === undefined) {
      const { cellOf, bandwidth } = this.grid;
      const n = cellOf.length;
      // That of the steady plate has a loss of 1.
      const real = plateMatrix(this.grid, lengthMm);
      const imaginary = new Float64Array(real.length);
      for (let i = 0; i < n; i++) {
        const at = i * (bandwidth + 1) + bandwidth;
        real[at]! += lossShare - 1;
        imaginary[at] = 1;
      }
      factor = { real, imaginary };
      factorComplexBand(factor, n, bandwidth);
      this.factors.set(lengthMm, factor);
    }
    return factor;
  }
}
