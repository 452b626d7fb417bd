// sources: a part in view among the sources found → log odds that its change is heat.
import { signedArea } from "../board/polygon.js";
import type { CandidatePool } from "./candidate-pool.js";
import { besideKPerW, underKPerW } from "./face-k-per-w.js";
import { heatOrMirror } from "./heat-or-mirror.js";
import { mirrorOf, recast } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** What heats less than this share of it does not count as heat beside it. */
const ALONE_SHARE = 0.25;

/** Log odds that the change on a part in view is heat. What is compared is the warmth of the board around it, with its own
 *  face left free to show anything: near what the face's rise would need, or near none.
 *  @param others the sources and mirrors beside it.
 *  @param scale by how much χ² overstates the evidence.
 *  @param roomK how much the room changed that all faces mirror, K.
 *  @returns null where face and board can't be told apart.
 */
export function weighFace(
  model: SourceModel,
  pool: CandidatePool,
  candidate: Candidate,
  others: readonly Candidate[],
  scale: number,
  roomK: number,
): number | null {
  const face = pool.fitFace(others, candidate);
  if (face === null) return null;
  const slope = face.covariance / face.powerVariance;
  const stepAtNoneK = face.stepK - slope * face.powerW;
  const mirror = { ...mirrorOf(candidate), mirrorStepK: Math.abs(stepAtNoneK) * candidate.emissivity };
  const around = pool.fitSet([...others, mirror, recast(candidate, "plate")]);
  const aroundW = around.powersW[others.length + 1]!;
  const othersW = others.reduce((sum, { kind }, c) => sum + (kind === "heat" ? around.powersW[c]! : 0), 0);
  return heatOrMirror({
    what: candidate.region < 0 ? "freePlace" : candidate.normallyWarm ? "warmPart" : "part",
    stepAtNoneK,
    stepPerWattK: slope,
    stepSigmaK: Math.sqrt((face.stepVariance - slope * face.covariance) * scale),
    roomK,
    emissivity: candidate.emissivity,
    shinyChance: candidate.shinyChance,
    areaMm2: Math.abs(signedArea(candidate.polygon)),
    aroundW,
    aroundSigmaW: Math.sqrt(around.variancesW2[others.length + 1]! * scale),
    besideKPerW: besideKPerW(model, candidate, pool.state),
    underKPerW: underKPerW(model, candidate, pool.state),
    conductanceKnown: model.plateKnown,
    alone: othersW < ALONE_SHARE * Math.abs(aroundW),
  });
}
