// sources: a dull face in a usual room → the smallest step that is taken for heat.
import { heatOrMirror } from "./heat-or-mirror.js";
import { ROOM_CHANGE_DEFAULTS } from "./room-change.js";

/** Steps that are tried: from the first on, each 2 % larger than the one before, K. */
const FIRST_STEP_K = 0.02;
const LARGEST_STEP_K = 20;
const GROWTH = 1.02;
/** Steps that are skipped at first: a third more in all. */
const STEPS_AT_ONCE = 16;

/** A usual face, mm²: a small package. */
const AREA_MM2 = 10;

/** Find the smallest step that a dull face must make to be taken for heat where its surroundings tell nothing either
 *  way.
 *  @param emissivity of the face, 0…1.
 *  @param leastLogOdds log odds from which a change is taken for heat.
 *  @returns K as the camera shows it; 20 where no smaller step is enough.
 */
export function leastHeatStep(emissivity: number, leastLogOdds: number): number {
  const enough = (stepK: number): boolean =>
    heatOrMirror({
      what: "part",
      stepAtNoneK: stepK / emissivity,
      stepPerWattK: 0,
      stepSigmaK: 0,
      emissivity,
      shinyChance: 0,
      areaMm2: AREA_MM2,
      aroundW: 0,
      roomK: ROOM_CHANGE_DEFAULTS.usualK,
      warmerChance: 0.5,
      aroundSigmaW: Number.POSITIVE_INFINITY,
      besideKPerW: 1,
      underKPerW: 0,
      conductanceKnown: true,
      alone: true,
    }) >= leastLogOdds;
  const steps: number[] = [];
  for (let stepK = FIRST_STEP_K; stepK < LARGEST_STEP_K; stepK *= GROWTH) steps.push(stepK);
  // In strides first, then one by one from the last stride that was too short: the odds have no peak narrower than one.
  let stride = 0;
  while (stride < steps.length && !enough(steps[stride]!)) stride += STEPS_AT_ONCE;
  for (let k = Math.max(0, stride - STEPS_AT_ONCE + 1); k < steps.length; k++) {
    if (enough(steps[k]!)) return steps[k]!;
  }
  return LARGEST_STEP_K;
}
