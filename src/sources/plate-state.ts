// sources: how far heat has spread on the plate, and whether it still spreads.

/** A state of the plate under constant power.
 *  `steady`: what is fed is lost; `lengthMm` is the cooling length √(conductance ÷ loss).
 *  `rising`: what is fed still warms the board; `lengthMm` is √(diffusivity · time since power-on).
 */
export interface PlateState {
  readonly kind: "steady" | "rising";
  readonly lengthMm: number;
}

const rising = (lengthMm: number): PlateState => Object.freeze({ kind: "rising", lengthMm });
const steady = (lengthMm: number): PlateState => Object.freeze({ kind: "steady", lengthMm });

/** States tried: bare laminate a second after power-on to copper planes in the minutes after it, and boards at rest from one
 *  thin layer of copper to several planes. Always the same objects: columns are kept by them.
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

/** The state the search starts from: in the middle of those that are usual. */
export const FIRST_STATE: PlateState = PLATE_STATES[4]!;

/** Steps in time by which a rising plate is computed: three give the tail of the exact answer to some percent of the peak. */
export const RISING_STEPS = 3;

/** Defaults of `statePenalty`: the logarithms of the lengths before anything is seen. */
export const STATE_PRIORS = Object.freeze({
  /** Rising, mm: 5e-6 m²/s over some seconds; from a second to minutes, laminate to planes, is a factor of six either way. */
  risingMm: 6,
  risingSpread: 0.8,
  /** At rest, mm: 0.01 W/K over 20 W/m²K; and its spread where the map tells the plate and where it does not. */
  steadyMm: 22,
  steadySpread: 0.5,
  toldSpread: 0.2,
});

/** χ² against a state before anything is seen.
 *  @param toldMm cooling length from the map's own constants; null where it does not tell them.
 */
export function statePenalty(state: PlateState, toldMm: number | null): number {
  const p = STATE_PRIORS;
  const [centre, spread] =
    state.kind === "rising"
      ? [p.risingMm, p.risingSpread]
      : [toldMm ?? p.steadyMm, toldMm === null ? p.steadySpread : p.toldSpread];
  return (Math.log(state.lengthMm / centre) / spread) ** 2;
}
