// sources: period of the supply and what is known of the plate → the states of a plate that alternates, and what it
// shows in them.
import { AlternatingColumns } from "./alternating-columns.js";
import type { HeatFootprint } from "./heat-footprint.js";
import type { Picture } from "./picture.js";
import type { PlateGrid } from "./plate-grid.js";
import type { PlateState } from "./plate-state.js";

/** A plate that alternates; `lengthMm` is √(conductance ÷ (2π ÷ period × heat capacity)). */
export interface AlternatingState extends PlateState {
  readonly kind: "alternating";
  /** By how much the picture's phase, that of the strongest heat, is behind the supply's. */
  readonly lagRad: number;
}

/** True for the states of a plate whose supply goes on and off. */
export function isAlternating(state: PlateState): state is AlternatingState {
  return state.kind === "alternating";
}

/** Lengths that are tried, as multiples of the likeliest one: conductances from a sixth to six times the usual, or from
 *  half to twice what the map tells: copper near the source differs from that of the board by a third and more. */
const LENGTHS = Object.freeze({
  told: Object.freeze([0.71, 0.84, 1, 1.19, 1.41]),
  untold: Object.freeze([0.42, 0.59, 0.84, 1.19, 1.68, 2.38]),
});
/** Lags that are tried, degrees: heat follows at once where it is made in a thin body, and the whole board is a quarter
 *  of a period late. */
const LAGS_DEG = Object.freeze([5, 20, 35, 50, 65, 80]);
/** Spread of the length's logarithm: half of the conductance's and of the capacity's together, ½·√(0.35² + 0.2²) where
 *  copper near the source is what is not told, and ½·√(0.9² + 0.2²). */
const SPREAD = Object.freeze({ told: 0.2, untold: 0.46 });
/** First harmonic of a supply that is on for half of each period: amplitude ÷ what it is while on. */
const FIRST_HARMONIC = 2 / Math.PI;

/** What is known of a plate whose supply goes on and off. */
interface AlternatingConstants {
  readonly periodS: number;
  readonly conductanceWPerK: number;
  readonly lossWPerM2K: number;
  readonly capacityJPerM2K: number;
  /** The map tells the conductance. */
  readonly told: boolean;
}

/** A plate under one rhythm: its states, and what one watt shows in them. Watts are those while the supply is on. */
export class AlternatingPlate {
  readonly states: readonly AlternatingState[];
  readonly firstState: AlternatingState;
  /** Lengths of the states, mm. */
  readonly lengthsMm: readonly number[];
  /** Mean amplitude over one square metre that one watt makes, K·m²/W, losses left out. */
  readonly perWatt: number;
  private readonly usualMm: number;
  private readonly lossShare: number;
  private readonly told: boolean;
  private readonly columns: AlternatingColumns;

  constructor(
    { periodS, conductanceWPerK, lossWPerM2K, capacityJPerM2K, told }: AlternatingConstants,
    grid: PlateGrid,
    pictures: readonly Picture[],
  ) {
    const heldWPerM2K = (2 * Math.PI * capacityJPerM2K) / periodS;
    this.perWatt = FIRST_HARMONIC / heldWPerM2K;
    this.lossShare = lossWPerM2K / heldWPerM2K;
    this.usualMm = 1e3 * Math.sqrt(conductanceWPerK / heldWPerM2K);
    this.told = told;
    this.lengthsMm = (told ? LENGTHS.told : LENGTHS.untold).map((length) => length * this.usualMm);
    this.states = this.lengthsMm.flatMap((lengthMm) =>
      LAGS_DEG.map(
        (lagDeg): AlternatingState =>
          Object.freeze({ kind: "alternating", lengthMm, lagRad: (lagDeg * Math.PI) / 180 }),
      ),
    );
    this.firstState = this.states[Math.floor(this.lengthsMm.length / 2) * LAGS_DEG.length + 2]!;
    this.columns = new AlternatingColumns(grid, pictures);
  }

  /** What one watt in a footprint shows in a state's phase, K per W and pixel on the board. */
  column(footprint: HeatFootprint, { lengthMm, lagRad }: AlternatingState): Float32Array {
    const [real, imaginary] = this.quadratures(footprint, lengthMm);
    const [c, s] = [Math.cos(lagRad), Math.sin(lagRad)];
    // The rise is the real part of θ·exp(iωt): what of it goes as cos(ωt − lag) is that of θ·exp(i·lag).
    return real.map((one, k) => c * one - s * imaginary[k]!);
  }

  /** θ for one watt in a footprint, real and imaginary, against the phase of the supply; K per W and pixel on the
   *  board. */
  quadratures(footprint: HeatFootprint, lengthMm: number): readonly [Float32Array, Float32Array] {
    return this.columns.quadratures(footprint, {
      lengthMm,
      lossShare: this.lossShare,
      perWatt: this.perWatt,
    });
  }

  /** χ² against a length before anything is seen. */
  penaltyOf({ lengthMm }: Pick<AlternatingState, "lengthMm">): number {
    const spread = this.told ? SPREAD.told : SPREAD.untold;
    return (Math.log(lengthMm / this.usualMm) / spread) ** 2;
  }
}
