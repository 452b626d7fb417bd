// sources: how far heat has spread on the plate, and whether it still spreads.
import { raiseTo } from "../core/raise-to.js";

/** A state of the plate.
 *  `steady`: what is fed is lost; `lengthMm` is the cooling length √(conductance ÷ loss).
 *  `rising`: what is fed still warms the board; `lengthMm` is √(diffusivity · time since power-on).
 *  `alternating`: the supply goes on and off, see `AlternatingState`.
 */
export interface PlateState {
  readonly kind: "steady" | "rising" | "alternating";
  readonly lengthMm: number;
  /** Where the plate's constants are told: time since power-on, in units of the plate's time constant, heat capacity ÷
   *  loss; spreading and losses are then both computed, whichever `kind` says what they amount to. */
  readonly timeConstants?: number;
  /** Spread by `TIMED_STEPS` or `FIVE_STEPS` in place of `RISING_STEPS`. */
  readonly steps?: "timed" | "five";
}

const rising = (lengthMm: number): PlateState => Object.freeze({ kind: "rising", lengthMm });
const steady = (lengthMm: number): PlateState => Object.freeze({ kind: "steady", lengthMm });

/** States tried: bare laminate a second after power-on to copper planes in the minutes after it, and boards at rest
 *  from one thin layer of copper to several planes. Always the same objects: columns are kept by them.
 */
export const PLATE_STATES: readonly PlateState[] = Object.freeze([
  rising(1.7),
  rising(2.4),
  rising(3.4),
  rising(4.8),
  rising(6.8),
  rising(9.6),
  rising(13.6),
  steady(9),
  steady(13),
  steady(18),
  steady(26),
  steady(40),
]);

/** Minutes on several planes of copper look like one plane at rest, and mean several times the watts: where nothing is
 *  told, watts are weighed over these as well. The search needs only pictures, and has these pictures.
 */
export const LONG_RISING_STATES: readonly PlateState[] = Object.freeze([rising(19.2), rising(27)]);

/** The state the search starts from: in the middle of those that are usual. */
export const FIRST_STATE: PlateState = PLATE_STATES[4]!;

/** Backward steps by which heat spreads: how many of them last as long as the time, and the heat in each, the first one
 *  first. */
interface SpreadSteps {
  readonly inTime: number;
  readonly weights: readonly number[];
}

/** A rising plate: three even steps give the tail of the exact answer to some percent of the peak. */
export const RISING_STEPS: SpreadSteps = Object.freeze({ inTime: 3, weights: Object.freeze([1, 1, 1]) });

/** … where watts are told and the time is known, which the tail then makes watts of. Heat of constant power spreads as
 *  (1 − exp(−z)) ÷ z, with z the square of wave number times length, plus the time in time constants: three even steps
 *  give that to 9.5 % for every z, these to 1.9 %: the least largest error, found by descent, of three that are exact
 *  at z = 0 and at large z. With losses the mean, of the least z, is exact, and what every other wave is off against it
 *  counts: see `timedSteps`.
 */
export const TIMED_STEPS: SpreadSteps = Object.freeze({
  inTime: 4.389963,
  weights: Object.freeze([2.7587064, 0.6312561, 1]),
});

/** … and where watts are told and the time is not known, which the shape then tells: five, which give every wave to 0.2
 *  %, found in the same way. By three even ones the tail is so much too long that a shorter time fits better; states a
 *  factor of two apart hide that. */
export const FIVE_STEPS: SpreadSteps = Object.freeze({
  inTime: 4.071382,
  weights: Object.freeze([-3.3056041, 5.5462193, -0.2643973, 1.0951646, 1]),
});

/** At rest one step is exact. */
const REST_STEPS: SpreadSteps = Object.freeze({ inTime: 1, weights: Object.freeze([1]) });

/** Steps that bring the plate to a state. */
export function stepsTo({ kind, timeConstants, steps }: PlateState): SpreadSteps {
  if (kind === "steady" && timeConstants === undefined) return REST_STEPS;
  if (steps === undefined) return RISING_STEPS;
  return steps === "timed" ? TIMED_STEPS : FIVE_STEPS;
}

/** What `statePenalty` and `timePenalty` expect before anything is seen: lengths and times, and the spreads of their
 *  logarithms. */
const STATE_PRIORS = Object.freeze({
  /** Rising, mm: 5e-6 m²/s over some seconds; from a second to minutes, laminate to planes, is a factor of six either
   *  way. */
  risingMm: 6,
  risingSpread: 0.8,
  /** At rest, mm: √(0.015 W/K ÷ 20 W/m²K); its spread, half of the conductance's (0.9) and the loss's (0.25) together
   *  where the map does not tell the plate, and half of what copper differs by from place to place (0.35) where it
   *  does. */
  steadyMm: 27,
  steadySpread: 0.5,
  toldSpread: 0.2,
  /** Time since power-on where the plate is told and the time is not, s: a second to half an hour, within about two
   *  spreads … */
  timeS: 20,
  timeSpread: 2,
  /** … and by how much the logarithm of a known time may be off: capacity and conductance are told to a fifth. */
  timedSpread: 0.35,
  /** Rising for a known time: half of the conductance's (0.9; 0.35 where the map states it) and the capacity's (0.3)
   *  together. And by how much the logarithm of the time is unsure at which a plate has come to rest: capacity (0.3),
   *  loss (0.25) and what is meant by rest. */
  knownSpread: 0.47,
  knownSpreadTold: 0.23,
  restSpread: 0.5,
});

/** Standard deviation of the logarithm of a conductance that the map does not tell: the test boards named in
 *  source-model.ts lie so far below and above the usual one. */
export const CONDUCTANCE_SPREAD = 0.9;
/** Seconds to the minutes in which a plate still warms: natural logarithm and its standard deviation. */
const RISING_PLATES = Object.freeze({ timeS: 11, timeSpread: 1.4 });

/** Likeliest conductance of a plate that is still rising, W/K: heat that went far is both well led and old, so that of
 *  a length beyond the usual the conductance has its share alone. With ln k and ln t normal, ln k given ln(k·t ÷
 *  capacity).
 *  @param usualWPerK where nothing is seen. @param capacityJPerM2K of the plate.
 */
export function risingConductance(lengthMm: number, usualWPerK: number, capacityJPerM2K: number): number {
  const { timeS, timeSpread } = RISING_PLATES;
  const share = CONDUCTANCE_SPREAD ** 2 / (CONDUCTANCE_SPREAD ** 2 + timeSpread ** 2);
  const usualMm2 = (1e6 * usualWPerK * timeS) / capacityJPerM2K;
  return usualWPerK * raiseTo(lengthMm ** 2 / usualMm2, share);
}

/** Shortest spreading tried on a told plate, mm … */
const FIRST_SPREAD_MM = 1.7;
/** … and how many times the time before it each time is: heat has spread √2 times as far. */
export const TIMES_APART = 2;
/** After so many time constants the plate has come to rest. */
const AT_REST = 16;
/** Up to so many it is said to be warming. */
const WARMING_UNTIL = 1.5;

/** Up to so many `TIMED_STEPS` are nearer. */
const TIMED_UNTIL = 6;

/** The state with the steps that are nearer where the time is known. Waves against the mean, at worst, 1, 4, 6, 8 and
 *  16 time constants after power-on: 3.8, 3.1, 3.6, 3.2 and 1.0 % by `TIMED_STEPS`, 9.3, 6.6, 3.6, 2.0 and 0.4 % by
 *  `RISING_STEPS`.
 */
export function timedSteps(state: PlateState): PlateState {
  return (state.timeConstants ?? 0) < TIMED_UNTIL ? { ...state, steps: "timed" } : state;
}

/** States of a plate whose constants are told: one for each of some times since power-on.
 *  @param restMm cooling length, √(conductance ÷ loss), mm.
 */
export function timedStates(restMm: number): PlateState[] {
  const states: PlateState[] = [];
  for (let x = (FIRST_SPREAD_MM / restMm) ** 2; x < TIMES_APART * AT_REST; x *= TIMES_APART) {
    states.push(Object.freeze(stateAfter(Math.min(x, AT_REST), restMm)));
  }
  return states;
}

function stateAfter(timeConstants: number, restMm: number): PlateState {
  const warming = timeConstants < WARMING_UNTIL;
  return {
    kind: warming ? "rising" : "steady",
    lengthMm: warming ? restMm * Math.sqrt(timeConstants) : restMm,
    timeConstants,
  };
}

/** How many times the time before it each time of `statesBetween` is, about: three in a factor of four. With √2 the
 *  last fit takes half as long again. */
export const TIMES_BETWEEN = 1.587;
/** Heat that has spread less than `FIRST_SPREAD_MM` looks much alike: the search does without, but watts go inversely
 *  as the time. */
const FIRST_BETWEEN_MM = 0.85;

/** States of a told plate that lie closer, to weigh watts over, spread by `FIVE_STEPS`: from half a step before the
 *  first of some to one beyond the last, for `RISING_STEPS` take heat to have spread for up to a third less time than
 *  it has; from the first of all states on also those before it.
 *  @param some one or more of `timedStates`. @param restMm as there.
 */
export function statesBetween(some: readonly PlateState[], restMm: number): PlateState[] {
  const times = some.map(({ timeConstants }) => timeConstants!);
  const first = Math.min(...times);
  const [earliest, searched] = [FIRST_BETWEEN_MM, FIRST_SPREAD_MM].map((mm) => (mm / restMm) ** 2) as [
    number,
    number,
  ];
  const from = first > searched * 1.01 ? first / Math.sqrt(TIMES_APART) : earliest;
  const to = Math.min(AT_REST, Math.max(...times) * TIMES_APART);
  const count = Math.max(1, Math.round(Math.log(to / from) / Math.log(TIMES_BETWEEN)));
  return Array.from({ length: count }, (_, k): PlateState => {
    const timeConstants = from * raiseTo(to / from, (k + 0.5) / count);
    return Object.freeze({ ...stateAfter(timeConstants, restMm), steps: "five" });
  });
}

/** χ² against a time before anything is seen.
 *  @param timeS of the state, s. @param knownS time since power-on, s; null where it is not known.
 */
export function timePenalty(timeS: number, knownS: number | null): number {
  const p = STATE_PRIORS;
  return knownS === null
    ? (Math.log(timeS / p.timeS) / p.timeSpread) ** 2
    : (Math.log(timeS / knownS) / p.timedSpread) ** 2;
}

/** χ² against a state before anything is seen.
 *  @param toldMm cooling length from the map's own constants; null where it does not tell them.
 *  @param known time since power-on, in units of the plate's time constant, and how far heat of a usual plate has
 *  spread by then, mm; null where the time is not known.
 */
export function statePenalty(
  state: PlateState,
  toldMm: number | null,
  known: { readonly timeConstants: number; readonly risingMm: number } | null = null,
): number {
  const p = STATE_PRIORS;
  const off = (from: number, spread: number) => (Math.log(state.lengthMm / from) / spread) ** 2;
  if (state.kind === "rising")
    return known === null
      ? off(p.risingMm, p.risingSpread)
      : off(known.risingMm, toldMm === null ? p.knownSpread : p.knownSpreadTold);
  const early = known === null ? 0 : Math.max(0, Math.log(WARMING_UNTIL / known.timeConstants));
  const length = off(toldMm ?? p.steadyMm, toldMm === null ? p.steadySpread : p.toldSpread);
  return length + (early / p.restSpread) ** 2;
}
