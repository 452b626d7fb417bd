// sources: what a map tells of its plate, and the time since power-on → what a watt makes in each state, and how unsure
// that is.
import type { BoardMap } from "../board/board-schema.js";
import { POWER_ERRORS } from "./average-powers.js";
import { CAPACITY_ERRORS, capacityBy, type PLATE_CAPACITY, plateCapacity } from "./plate-capacity.js";
import { type PlateState, risingConductance, statePenalty, timePenalty } from "./plate-state.js";

/** What is taken where the map does not tell. */
type Usual = { readonly [K in keyof typeof PLATE_CAPACITY]: number } & {
  readonly lossWPerM2K: number;
  readonly conductanceWPerK: number;
};

/** The plate's constants, as far as they are told, and what follows of them for constant power. */
export class PlateConstants {
  readonly lossWPerM2K: number;
  readonly conductanceWPerK: number;
  readonly capacityJPerM2K: number;
  /** True where the map states the conductance. */
  readonly conductanceKnown: boolean;
  /** What tells the heat capacity. */
  readonly capacityBy: "told" | "byThickness" | "usual";

  /** @param timeS time since power-on that the rise belongs to, s; null where it is not known. */
  constructor(
    board: Pick<BoardMap, "plate" | "thicknessMm">,
    readonly timeS: number | null,
    usual: Usual,
  ) {
    this.lossWPerM2K = board.plate?.lossWPerM2K ?? usual.lossWPerM2K;
    this.conductanceWPerK = board.plate?.conductanceWPerK ?? usual.conductanceWPerK;
    this.capacityJPerM2K = plateCapacity(board, usual);
    this.conductanceKnown = board.plate?.conductanceWPerK !== undefined;
    this.capacityBy = capacityBy(board);
  }

  /** Cooling length by the map's own constants, mm; null where it does not tell them. */
  get toldLengthMm(): number | null {
    return this.conductanceKnown ? this.restMm : null;
  }

  /** Mean rise over one square metre that one watt makes, K·m²/W.
   *  The time since power-on, loss and heat capacity tell it whatever the copper, however far heat seems to have
   *  spread. Where the time is not known: steady, the loss; rising, the conductance, through the length: time ÷
   *  capacity = length² ÷ conductance. A burst's time is that of its mean where heat grows evenly; in minutes-long
   *  ones, which come to rest, it is a little late.
   */
  perWatt(state: PlateState): number {
    if (state.timeConstants !== undefined) return -Math.expm1(-state.timeConstants) / this.lossWPerM2K;
    if (this.timeS !== null) return -Math.expm1(-this.timeS / this.restTimeS) / this.lossWPerM2K;
    if (state.kind === "steady") return 1 / this.lossWPerM2K;
    const { lengthMm } = state;
    const conductance = this.conductanceKnown
      ? this.conductanceWPerK
      : risingConductance(lengthMm, this.conductanceWPerK, this.capacityJPerM2K);
    return (lengthMm * 1e-3) ** 2 / conductance;
  }

  /** By what the watts of a state change where the time since power-on is known: how far heat has spread hangs on the
   *  copper, how much went in on that time alone. */
  timeFactor({ timeConstants }: PlateState): number {
    if (timeConstants === undefined || this.timeS === null) return 1;
    return Math.expm1(-timeConstants) / Math.expm1(-this.timeS / this.restTimeS);
  }

  /** Relative error of watts in a state: what the constants leave open. */
  powerError(state: PlateState): number {
    const e = POWER_ERRORS;
    if (state.timeConstants !== undefined) return this.capacityBy === "told" ? e.timed : e.timedBySize;
    if (state.kind === "alternating") return this.conductanceKnown ? e.alternatingTold : e.alternating;
    if (this.timeS !== null) return this.timedError(e.evenCopper);
    if (state.kind === "steady") return this.conductanceKnown ? e.steadyTold : e.steady;
    return this.conductanceKnown ? e.risingTold : e.rising;
  }

  /** … where uneven copper is fitted along. */
  copperError(state: PlateState): number {
    const e = POWER_ERRORS;
    if (state.timeConstants !== undefined) return this.capacityBy === "told" ? e.copper : e.copperBySize;
    if (this.timeS !== null) return this.timedError(e.leftCopper);
    return Math.min(state.kind === "steady" ? e.copperSteady : e.copperRising, this.powerError(state));
  }

  /** Error of watts after a known time: at first the heat capacity and the time tell them, at rest the loss.
   *  @param copper what copper leaves, whichever tells them.
   */
  private timedError(copper: number): number {
    const x = this.timeS! / this.restTimeS;
    const byCapacity = x / Math.expm1(x);
    const capacity = Math.hypot(CAPACITY_ERRORS[this.capacityBy], POWER_ERRORS.time);
    return Math.hypot(copper, (1 - byCapacity) * POWER_ERRORS.loss, byCapacity * capacity);
  }

  /** χ² against a state of the plate before anything is seen. */
  penaltyOf(state: PlateState): number {
    const { timeConstants } = state;
    if (timeConstants === undefined) return statePenalty(state, this.toldLengthMm, this.knownTime);
    return timePenalty(timeConstants * this.restTimeS, this.timeS);
  }

  /** … if no time since power-on were told. */
  untoldPenaltyOf(state: PlateState): number {
    const { timeConstants } = state;
    if (timeConstants === undefined) return statePenalty(state, this.toldLengthMm);
    return timePenalty(timeConstants * this.restTimeS, null);
  }

  /** Time since power-on at which a plate of these constants is likeliest to be in a state, s; null at rest. */
  likelyTimeS({ kind, lengthMm, timeConstants }: PlateState): number | null {
    if (kind !== "rising") return null;
    if (timeConstants !== undefined) return timeConstants * this.restTimeS;
    return ((lengthMm * 1e-3) ** 2 * this.capacityJPerM2K) / this.conductanceWPerK;
  }

  /** Where the time since power-on is known, how far a plate of these constants has come. */
  private get knownTime(): { readonly timeConstants: number; readonly risingMm: number } | null {
    if (this.timeS === null) return null;
    const timeConstants = this.timeS / this.restTimeS;
    return { timeConstants, risingMm: this.restMm * Math.sqrt(timeConstants) };
  }

  /** Time constant of the plate, s: heat capacity ÷ loss. */
  private get restTimeS(): number {
    return this.capacityJPerM2K / this.lossWPerM2K;
  }

  /** Cooling length, mm: how far heat has spread at rest. */
  get restMm(): number {
    return 1e3 * Math.sqrt(this.conductanceWPerK / this.lossWPerM2K);
  }
}
