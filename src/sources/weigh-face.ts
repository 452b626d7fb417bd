// sources: a part in view among the sources found → log odds that its change is heat.
import { signedArea } from "../board/polygon.js";
import type { CandidatePool } from "./candidate-pool.js";
import { besideKPerW, underKPerW } from "./face-k-per-w.js";
import { heatOrMirror } from "./heat-or-mirror.js";
import { FIRST_INNER_SHAPE } from "./mirror-shapes.js";
import { mirrorOf, recast } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";

/** Shapes of a face after its level: along x and y. */
const SLOPES = 2;

/** What is known of the room that a face mirrors. */
export interface RoomOfFace {
  /** By how much it may have changed, K. */
  readonly roomK: number;
  /** How probable it is that it got warmer and not cooler. */
  readonly warmerChance: number;
  /** How much dull faces show of it against what they are taken to show; 1 if not given. */
  readonly dullFactor?: number;
}

/** What heats less than this share of it does not count as heat beside it. */
const ALONE_SHARE = 0.25;

/** What may make a change on a face beside its own finish, asked where nothing surely heats. */
export interface FaceDoubt {
  /** By how much what the board around other faces shows varies more than noise tells. */
  readonly aroundError: number;
}

const NO_DOUBT: FaceDoubt = Object.freeze({ aroundError: 1 });

/** Log odds that the change on a part in view is heat. What is compared is the warmth of the board around it, with its
 *  own face left free to show anything: near what the face's rise would need, or near none.
 *  @param others the sources and mirrors beside it.
 *  @param scale by how much χ² overstates the evidence.
 *  @param doubt what else may make such a change; none if not given.
 *  @returns null where face and board can't be told apart.
 */
export function weighFace(
  model: SourceModel,
  pool: CandidatePool,
  candidate: Candidate,
  others: readonly Candidate[],
  scale: number,
  room: RoomOfFace,
  doubt: FaceDoubt = NO_DOUBT,
): number | null {
  const step = stepOf(pool, candidate, others);
  if (step === null) return null;
  const { face, slope, stepAtNoneK, mirror } = step;
  const judge = (beside: CandidatePool, set: readonly Candidate[]): number => {
    const around = beside.fitSet([...set, recast(candidate, "plate")]);
    const aroundW = around.powersW[set.length]!;
    const othersW = others.reduce((sum, { kind }, c) => sum + (kind === "heat" ? around.powersW[c]! : 0), 0);
    return heatOrMirror({
      what: candidate.region < 0 ? "freePlace" : candidate.normallyWarm ? "warmPart" : "part",
      stepAtNoneK,
      stepPerWattK: slope,
      stepSigmaK: Math.sqrt((face.stepVariance - slope * face.covariance) * scale),
      ...room,
      emissivity: candidate.emissivity,
      shinyChance: candidate.shinyChance,
      areaMm2: Math.abs(signedArea(candidate.polygon)),
      aroundW,
      aroundSigmaW: doubt.aroundError * Math.sqrt(around.variancesW2[set.length]! * scale),
      besideKPerW: besideKPerW(model, candidate, pool.state),
      underKPerW: underKPerW(model, candidate, pool.state),
      conductanceKnown: model.plate.conductanceKnown,
      alone: othersW < ALONE_SHARE * Math.abs(aroundW),
    });
  };
  const logOdds = judge(pool, [...others, mirror]);
  // A hand's picture in a face of unstated finish is neither level, slope nor curvature, and what those leave is taken
  // for heat around it: where it came out as heat it is read again with its pixels left out. A face too small for
  // curvatures shows no picture.
  if (candidate.region < 0 || candidate.normallyWarm || !(candidate.shinyChance > 0)) return logOdds;
  if (logOdds < 0 || isSmallFace(model, candidate)) return logOdds;
  return Math.min(logOdds, judge(pool.offFace(candidate), others));
}

/** How a face stands out by itself, and as the mirror that would show it. */
function stepOf(pool: CandidatePool, candidate: Candidate, others: readonly Candidate[]) {
  const face = pool.fitFace(others, candidate);
  if (face === null) return null;
  const slope = face.covariance / face.powerVariance;
  const stepAtNoneK = face.stepK - slope * face.powerW;
  const mirror = { ...mirrorOf(candidate), mirrorStepK: Math.abs(stepAtNoneK) * candidate.emissivity };
  return { face, slope, stepAtNoneK, mirror };
}

/** Watts that the board around a face shows, with the face left free to show anything. */
export interface AroundFace {
  readonly powerW: number;
  readonly sigmaW: number;
}

/** Measure the watts that the board around a face shows; null where face and board can't be told apart. */
export function aroundFace(
  pool: CandidatePool,
  candidate: Candidate,
  others: readonly Candidate[],
  scale: number,
): AroundFace | null {
  const step = stepOf(pool, candidate, others);
  if (step === null) return null;
  const around = pool.fitSet([...others, step.mirror, recast(candidate, "plate")]);
  const c = others.length + 1;
  return { powerW: around.powersW[c]!, sigmaW: Math.sqrt(around.variancesW2[c]! * scale) };
}

/** True of a face with no room for curvatures, in any picture that shows it. */
function isSmallFace(model: SourceModel, candidate: Candidate): boolean {
  const views = model.pictures.filter(({ view }) => view.side === candidate.side).length;
  return model.mirrorColumns(candidate).length <= views * (FIRST_INNER_SHAPE + SLOPES);
}
