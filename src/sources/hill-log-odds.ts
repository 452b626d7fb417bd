// sources: heat that shows no face → log odds that its hill is heat.
import { besideKPerW } from "./face-k-per-w.js";
import type { HeatJudge } from "./heat-log-odds.js";
import { heatOrMirror } from "./heat-or-mirror.js";
import type { Candidate } from "./source-model.js";

/** Log odds of heat that shows no face: the hill alone tells, and rooms mirrored in the mask make such too.
 *  @param aroundW watts that the board around shows. @param gain χ² that they take off ÷ the residual scale.
 */
export function hillLogOdds(
  { model, pool, room }: Pick<HeatJudge, "model" | "pool" | "room">,
  candidate: Candidate,
  aroundW: number,
  gain: number,
): number {
  return heatOrMirror({
    what: "freePlace",
    stepAtNoneK: 0,
    stepPerWattK: 0,
    stepSigmaK: 0,
    ...room(candidate),
    emissivity: candidate.emissivity,
    shinyChance: 0,
    areaMm2: 0,
    aroundW,
    aroundSigmaW: aroundW / Math.sqrt(gain),
    besideKPerW: besideKPerW(model, candidate, pool.state),
    underKPerW: 0,
    conductanceKnown: model.plate.conductanceKnown,
    alone: true,
  });
}
