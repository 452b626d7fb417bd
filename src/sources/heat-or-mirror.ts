// sources: a face's step, its finish and the watts its surroundings show → log odds that it heats and does not mirror.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { laplaceNormalDensity } from "../numeric/laplace-normal.js";
import { UNEVEN_COPPER } from "./copper-fields.js";
import { logStep } from "./log-step.js";
import { MIRRORS_FROM, mirroredShare } from "./mirrored-share.js";
import { CONDUCTANCE_SPREAD } from "./plate-state.js";

/** Defaults of `heatOrMirror`, each with its reason. */
export const HEAT_OR_MIRROR_DEFAULTS = Object.freeze({
  /** Log odds before anything is seen that what changed on one given part is heat: one part of some tens has the fault,
   *  while any of them may mirror: odds of 2 to 9 say that as many as four or five faces of a board show the room. A
   *  judgement. */
  oneOfMany: -1.5,
  /** … that it is heat where the part warms on a healthy board too, and where no part is named (1 to 33).
   *  Judgements. */
  warmOdds: -1.5,
  freeOdds: -3.5,
  /** Share of a step that optics and outline, not being quite as assumed, may leave around the face as heat would. A
   *  judgement. */
  leakShare: 0.04,
  /** A hand close by may show in one shiny face and in no other, K; and how often: skin some 10 K warmer than the room
   *  fills a third of what the face sees. Judgements. */
  handK: 3,
  handChance: 0.5,
  /** A change mirrored in the solder mask makes hills on the board around, of so large a share of the room's change. A
   *  judgement. */
  hillShare: 0.03,
  /** Watts of any size are equally probable over this span, W: from what can be seen (`stepErrorK` on a chip of 63 K/W)
   *  to what a part survives. Only its logarithm counts: ten times as wide takes 0.22 off log odds. */
  wattSpan: Object.freeze([5e-4, 5]) as readonly [number, number],
  /** A step is known to this, K, and to this share: noise, and bodies that are not warmed evenly. Judgements. */
  stepErrorK: 0.03,
  stepErrorShare: 0.15,
  /** Chance that a step errs otherwise than normally: with the tails of a Laplace deviate of the same size. A
   *  judgement. */
  stepWrong: 0.03,
  /** A body's rise above the board, K per W: 75/√(area in mm²). By data sheets ψJB − ψJT of leadless packages is 7.0,
   *  11.7 and 20.8 (4 mm), 6.5, 9.3 and 16.4 (5 mm), 5.9 (7 mm), of leaded ones of 14 pins 36 to 58 (SO, SOIC, SSOP,
   *  TSSOP; TI SWRS204, SLASEH2, SLASEX5, SCLS062, TLV320ADC6140; sizes of packages from memory); thick-film chips 63
   *  (0603) to 32 (1206), from memory. */
  bodyKMmPerW: 75,
  /** Spread of the logarithm of that: those thirteen values lie 0.82 about it (root mean square; their mean is 0.13
   *  above, leaded ones 1.2 to 1.3). Where the map does not tell the plate's conductance, `CONDUCTANCE_SPREAD` of
   *  plate-state.ts comes beside it. */
  bodySpread: 0.8,
  /** Chance that a dull face shows more of the room than the dull faces of its pair tell: as much as dull finishes are
   *  taken to; and, mm², below which a part surely may: its joints, which no map draws, mirror by themselves and are
   *  much of what is seen of it (record 444). Judgements. */
  unlikeOthers: 0.1,
  jointedMm2: 4,
  /** Chance that the watts around a face err by far more than their noise: uneven copper, the room mirrored in the
   *  mask; and how much more. Judgements. */
  modelWrong: 0.03,
  wrongBy: 8,
  /** … and where nothing else heats: there is no heat then that copper could spread unevenly. With eight times there,
   *  too, a die of 44 mW that stood 20 σ above none had odds of 1.2; with four 3 of 18 doubtful powered scenes were
   *  won, and none of 11 unpowered ones lost (record 167). */
  aloneWrong: 0.06,
  aloneWrongBy: 4,
});

type Judgements = ResolvedOptions<typeof HEAT_OR_MIRROR_DEFAULTS>;

/** Chance that a shiny face shows heat all the same: tape, dust, a label. A judgement. */
const LEAST_SHOWN = 0.02;

/** A density that no model gets below, 1/K: what none expects may be all the same, and its logarithm stays a number. */
const LEAST_DENSITY = 1e-30;

/** Step of the integral over the logarithm of the watts. */
const LOG_STEP = 0.08;

/** What is known of one face. */
export interface FaceEvidence {
  readonly what: "part" | "warmPart" | "freePlace";
  /** The body's rise above the plate if the plate had no heat from it, K; less by so much for every watt it has; and
   *  the error of either. */
  readonly stepAtNoneK: number;
  readonly stepPerWattK: number;
  readonly stepSigmaK: number;
  readonly emissivity: number;
  /** What one watt shows on the plate under the face, K per W. */
  readonly underKPerW: number;
  /** Chance that the face is a mirror, whatever the map says of its finish. */
  readonly shinyChance: number;
  readonly areaMm2: number;
  /** Watts that the board around the face shows, of either sign, with the face itself left free. */
  readonly aroundW: number;
  readonly aroundSigmaW: number;
  /** The most that one watt shows on the plate beside the face, K per W. */
  readonly besideKPerW: number;
  /** How much the room changed, as all faces together tell, K. */
  readonly roomK: number;
  /** How probable it is that what it mirrors of the room got warmer and not cooler. */
  readonly warmerChance: number;
  /** How much the dull faces of this pair show of the room against what dull finishes are taken to show; 1 if not
   *  given. */
  readonly dullFactor?: number;
  /** Watts a body of its usual resistance needs are known as well as the conductance that stands behind `aroundW`. */
  readonly conductanceKnown: boolean;
  /** True if nothing else was found to heat that compares with it. */
  readonly alone: boolean;
}

/** Log odds that a change on a face is heat of the part and not the room mirrored in it.
 *  Bayes, over the watts and the body's resistance: heat must make the step and the warmth of the board around
 *  together, a mirrored room makes a step of its own and none around.
 */
export function heatOrMirror(
  face: FaceEvidence,
  options: OptionsOf<typeof HEAT_OR_MIRROR_DEFAULTS> = {},
): number {
  const o = { ...HEAT_OR_MIRROR_DEFAULTS, ...options };
  const before = { part: o.oneOfMany, warmPart: o.warmOdds, freePlace: o.freeOdds }[face.what];
  const heard = hearAround(face, o);
  // How large a face is that no map names is not known, nor therefore its step: the board around alone tells.
  if (face.what === "freePlace") return before + logWarms(heard);
  return before + logAsHeat(face, heard, o) - logAsMirror(face, o);
}

/** Log density of the step, as the camera shows it, if no heat came from the part. */
function logAsMirror(face: FaceEvidence, o: ResolvedOptions<typeof HEAT_OR_MIRROR_DEFAULTS>): number {
  const share = mirroredShare(face.emissivity);
  const dull =
    share > MIRRORS_FROM
      ? logMirrored(face, share, o)
      : Math.log(
          // Where a mirror lies on the same place the other sign has a chance of 0, whose logarithm is no number to go
          // on with.
          Math.max(signShare(face) * shownDull(face, share * face.roomK, o), LEAST_DENSITY),
        );
  return logSum([
    Math.log(1 - face.shinyChance) + dull,
    Math.log(face.shinyChance) + logMirrored(face, 1, o),
  ]);
}

/** Density of the step on a dull face. @param roomK what such a face is taken to show of the room. */
function shownDull(face: FaceEvidence, roomK: number, o: Judgements): number {
  const { dullFactor = 1 } = face;
  const unlike = Math.min(1, Math.max(o.unlikeOthers, o.jointedMm2 / face.areaMm2));
  return (1 - unlike) * shownRoom(face, dullFactor * roomK, o) + unlike * shownRoom(face, roomK, o);
}

/** Log density of the step on a face that mirrors by itself: it shows the room's change as other faces do, or a hand
 *  that none of them does. */
function logMirrored(
  face: FaceEvidence,
  share: number,
  o: ResolvedOptions<typeof HEAT_OR_MIRROR_DEFAULTS>,
): number {
  const shown = (roomK: number) => shownRoom(face, share * roomK, o);
  return Math.log(
    (1 - o.handChance) * signShare(face) * shown(face.roomK) +
      o.handChance * shown(Math.max(o.handK, face.roomK)) +
      LEAST_DENSITY,
  );
}

/** How many times as probable the step's sign is as where nothing is known of it: what all faces mirror is one room. */
function signShare({ stepAtNoneK, warmerChance }: FaceEvidence): number {
  return 2 * (stepAtNoneK < 0 ? 1 - warmerChance : warmerChance);
}

/** Density of the step where the face shows a change in the room of that size. */
function shownRoom(face: FaceEvidence, roomK: number, o: Judgements): number {
  const stepK = Math.abs(face.stepAtNoneK) * face.emissivity;
  // A face cooler than the board around it was measured no better than a warmer one would be as heat.
  const shareK = face.stepAtNoneK < 0 ? o.stepErrorShare * stepK : 0;
  const errorK = Math.hypot(o.stepErrorK, shareK, face.stepSigmaK * face.emissivity);
  return (
    (1 - o.stepWrong) * laplaceNormalDensity(stepK, roomK, errorK) +
    o.stepWrong * laplace(stepK, Math.hypot(roomK, errorK)) +
    LEAST_DENSITY
  );
}

/** How much better the surroundings agree with each of some watts than with none. */
interface HeardAround {
  readonly watts: readonly number[];
  readonly logs: readonly number[];
}

function hearAround(face: FaceEvidence, o: ResolvedOptions<typeof HEAT_OR_MIRROR_DEFAULTS>): HeardAround {
  const { aroundW } = face;
  const leakK = o.leakShare * Math.max(0, face.stepAtNoneK) * face.emissivity;
  const hillK = o.hillShare * face.roomK;
  const sigmaW = Math.hypot(face.aroundSigmaW, Math.hypot(leakK, hillK) / face.besideKPerW);
  // Heat of its own is spread by copper too.
  const asHeat = { wrong: o.modelWrong, by: o.wrongBy };
  const asNone = face.alone ? { wrong: o.aloneWrong, by: o.aloneWrongBy } : asHeat;
  const [low, high] = o.wattSpan;
  const count = Math.ceil(Math.log(high / low) / LOG_STEP);
  const watts = Array.from({ length: count + 1 }, (_, k) => low * Math.exp(k * LOG_STEP));
  const none = logAround(aroundW / sigmaW, asNone);
  return { watts, logs: watts.map((one) => logAround((aroundW - one) / sigmaW, asHeat) - none) };
}

/** How much better the surroundings agree with heat than with none, whatever the face shows: the watts that they show
 *  are known no better than copper is even. */
function logWarms({ logs }: HeardAround): number {
  return Math.max(...logs) + Math.log((2 * UNEVEN_COPPER) / LOG_STEP) - Math.log(logs.length);
}

/** Log density of the step under heat, times how much better the surroundings agree with the watts than with none. A
 *  face that shows its own warmth makes a step to match the watts; one that mirrors shows the room, and its watts all
 *  the same warm the board around. */
function logAsHeat(
  face: FaceEvidence,
  heard: HeardAround,
  o: ResolvedOptions<typeof HEAT_OR_MIRROR_DEFAULTS>,
): number {
  const { emissivity } = face;
  const usual = (emissivity * o.bodyKMmPerW) / Math.sqrt(face.areaMm2);
  const spread = face.conductanceKnown ? o.bodySpread : Math.hypot(o.bodySpread, CONDUCTANCE_SPREAD);
  const asDull = heard.watts.map((watts, k) => {
    const stepK = emissivity * (face.stepAtNoneK + watts * face.stepPerWattK);
    const errorK = Math.hypot(
      o.stepErrorK,
      // A finish of another emissivity shows the board's own warmth otherwise than assumed.
      finishError(emissivity) * watts * face.underKPerW,
      o.stepErrorShare * Math.abs(emissivity * face.stepAtNoneK),
      face.stepSigmaK * emissivity,
    );
    return heard.logs[k]! + logStep(stepK, errorK, watts * usual, spread);
  });
  // A shiny face would hardly show its own warmth: what it shows so well is not that.
  const showsItself = Math.log(1 - face.shinyChance + LEAST_SHOWN);
  return logSum([
    logSum(asDull) - Math.log(asDull.length) + showsItself,
    logWarms(heard) + Math.log(face.shinyChance) + logMirrored(face, 1, o),
  ]);
}

/** Relative error of an emissivity: a few percent for dull finishes, much more for bare dies. */
export function finishError(emissivity: number): number {
  return 1 - emissivity > MIRRORS_FROM ? 0.25 : 0.04;
}

/** Log density of the watts around, in units of their sigma, up to a constant. */
function logAround(z: number, { wrong, by }: { readonly wrong: number; readonly by: number }): number {
  return logSum([Math.log(1 - wrong) - 0.5 * z * z, Math.log(wrong / by) - 0.5 * (z / by) ** 2]);
}

function logSum(logs: readonly number[]): number {
  const top = Math.max(...logs);
  let sum = 0;
  for (const log of logs) sum += Math.exp(log - top);
  return top + Math.log(sum);
}

function laplace(x: number, scale: number): number {
  return Math.exp(-x / scale) / (2 * scale);
}
