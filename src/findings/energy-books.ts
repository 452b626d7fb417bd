// findings: watts fed in and watts seen → what is missing, with its interval, and what that can mean.
import {
  formatPower,
  formatPowerSize,
  formatResistance,
  formatSignificant,
} from "../core/format-quantity.js";
import { METER_SHARE } from "../sources/hold-against-feed.js";
import type { BoardLoss } from "./board-loss.js";
import type { Energy, Limit } from "./findings-schema.js";

/** Sources and feed apart by more than this many standard uncertainties differ. */
const DIFFERS = 2;
/** One-sided 95 %. */
const UPPER_95 = 1.645;
/** Books whose uncertainty is more than this share of what was fed say little. */
const LOOSE_SHARE = 0.5;
/** Resistance from the supply's terminals to the fault and back, Ω: from a metre of thick leads soldered on (2 m of
 *  1.5 mm² copper at 17 mΩ·mm²/m: 23 mΩ) to thin leads with clips and a long track (2 m of 0.25 mm²: 138 mΩ; 100 mm of
 *  a 1 mm track of 35 µm: 49 mΩ; the rest clips; common practice, no source). */
const PATH_OHM = [0.02, 0.3] as const;
/** Losses of both faces of a board together lie in this range, W/m²K: 8 where it lies on its back on a bench that leads
 *  no heat away, up to 26 in still air (source-model.ts), and a little more for air that moves. */
const LOSS_RANGE = [8, 30] as const;
/** After this many time constants 95 % of the final rise are reached. */
const REST_CONSTANTS = 3;
/** By so many seconds' heat the board lags behind its parts at most: 1.5 mm of body at 2 MJ/m³K (from memory, for
 *  moulding compound; ceramics hold half as much again) × 75 mm·K/W ÷ its width (heat-or-mirror.ts) are 0.23 s for each
 *  mm of width, of which 20 are taken. */
const BODY_LAG_S = 4.5;

/** What the books are drawn up from. */
export interface EnergyInput {
  readonly volts: number;
  readonly amps: number;
  readonly sources: readonly { readonly powerW: number; readonly powerSigmaW: number }[];
  /** What the board gives off as a whole; null where its level is not known. */
  readonly boardLoss: BoardLoss | null;
  readonly limits: readonly Limit[];
  /** Fewest watts that would have been found on the side in view and on the other one; null where not known. */
  readonly smallestW: number | null;
  readonly smallestFarW: number | null;
  readonly farSide: "top" | "bottom";
  /** From power-on to the last frame, s; null where the frames do not tell. */
  readonly secondsOn: number | null;
  /** Heat capacity ÷ loss of the board, s. */
  readonly timeConstantS: number;
  /** The fit takes the board for one that has come to rest: else its watts count what goes into warming it. */
  readonly takenAtRest: boolean;
  readonly lossWPerM2K: number;
  /** The map states conductance and loss; its thickness. */
  readonly plateKnown: boolean;
  readonly thicknessKnown: boolean;
  /** The frames show so many watts that they and those fed in can't both be right. */
  readonly exclusive: boolean;
}

/** Draw up the books of one attempt.
 *  Seen is the sum of all fitted sources, normally warm ones too. What the plate's constants do wrong they do to all
 *  sources alike: of the sources' relative uncertainties the smallest is taken for common to all and adds up as it is,
 *  the rest adds up in squares. Without any source, what could not have been found stands for the uncertainty.
 */
export function energyBooks(e: EnergyInput): Energy {
  const fedW = e.volts * e.amps;
  const seenW = e.sources.reduce((sum, { powerW }) => sum + powerW, 0);
  const seenSigmaW = e.sources.length === 0 ? (e.smallestW ?? 0) / UPPER_95 : jointSigma(e.sources);
  const missingW = fedW - seenW;
  const missingSigmaW = Math.hypot(seenSigmaW, METER_SHARE * fedW);
  return {
    fedW,
    seenW,
    seenSigmaW,
    missingW,
    missingSigmaW,
    boardLossW: e.boardLoss?.powerW ?? null,
    boardLossSigmaW: e.boardLoss?.sigmaW ?? null,
    exclusive: e.exclusive,
    meaning: meaningOf(e, fedW, { powerW: seenW, sigmaW: seenSigmaW }),
  };
}

/** Standard uncertainty of a sum whose terms share a relative error, W. */
function jointSigma(sources: EnergyInput["sources"]): number {
  const known = sources.filter(({ powerW }) => powerW > 0);
  const shared = Math.min(...known.map(({ powerW, powerSigmaW }) => powerSigmaW / powerW));
  if (!Number.isFinite(shared)) return 0;
  let sum = 0;
  let squares = 0;
  for (const { powerW, powerSigmaW } of known) {
    sum += shared * powerW;
    squares += Math.max(0, powerSigmaW ** 2 - (shared * powerW) ** 2);
  }
  return Math.sqrt(sum * sum + squares);
}

/** Watts with their standard uncertainty. */
interface Watts {
  readonly powerW: number;
  readonly sigmaW: number;
}

/** Choose what the difference can mean. The board's own balance bounds the heat from below, whenever it was taken, and
 *  equals it at rest: it can show that nothing is missing, or that too much is seen, but not that something is missing.
 */
function meaningOf(e: EnergyInput, fedW: number, seen: Watts): string {
  if (!(fedW > 0)) return "No power was fed in: nothing can have warmed by it.";
  const bySources = difference(fedW, seen);
  const byBoard = e.boardLoss === null ? null : difference(fedW, e.boardLoss);
  const boardAgrees =
    byBoard !== null &&
    byBoard.sigmaW <= LOOSE_SHARE * fedW &&
    Math.abs(byBoard.powerW) <= DIFFERS * byBoard.sigmaW;
  if (e.exclusive || bySources.powerW < -DIFFERS * bySources.sigmaW) {
    return tooMuchSeen(e, fedW, seen.powerW, boardAgrees);
  }
  if (byBoard !== null && byBoard.powerW < -DIFFERS * byBoard.sigmaW) {
    return tooMuchSeen(e, fedW, e.boardLoss!.powerW, false);
  }
  if (bySources.powerW > DIFFERS * bySources.sigmaW) return missingMeans(e, seen, bySources);
  const bounds = [bySources, byBoard].flatMap((m) => (m === null ? [] : m.powerW + UPPER_95 * m.sigmaW));
  const most = Math.min(...bounds);
  const upTo = most > 0 && most < fedW ? `; up to ${formatPowerSize(most)} may still be missing` : "";
  if (e.sources.length === 0 && e.smallestW !== null && fedW <= e.smallestW) {
    return `So little would not have been found: half of the parts must take ${formatPowerSize(e.smallestW)} to be.`;
  }
  if (bySources.sigmaW <= LOOSE_SHARE * fedW) return `Fed and seen agree within the uncertainty${upTo}.`;
  if (boardAgrees) {
    return `The sources' watts are uncertain, but by the balance of the whole board fed and seen agree${upTo}.`;
  }
  return `The watts are too uncertain for the books to say more${upTo}. What would tighten them: ${whatTightens(e)}.`;
}

function whatTightens({ plateKnown, thicknessKnown, secondsOn }: EnergyInput): string {
  if (plateKnown) return "frames of a board that has come to rest";
  const time = secondsOn === null ? "the seconds from power-on to the powered frames; " : "";
  return `${time}the board's ${thicknessKnown ? "" : "thickness, "}conductance and loss in the map`;
}

function difference(fedW: number, { powerW, sigmaW }: Watts): Watts {
  return { powerW: fedW - powerW, sigmaW: Math.hypot(sigmaW, METER_SHARE * fedW) };
}

/** More heat than power: what the watts rest on is wrong, by a factor that can be named. */
function tooMuchSeen(e: EnergyInput, fedW: number, seenW: number, boardAgrees: boolean): string {
  const factor = seenW / fedW;
  const lossW = e.lossWPerM2K / factor;
  const seenMore = `More heat is seen than was fed in${e.exclusive ? ", and the watts told of parts do not stand" : ""}`;
  const head = e.exclusive && !boardAgrees ? EXCLUSIVE : seenMore;
  const times = `${head}: the watts come out ${formatSignificant(factor, 2)} times too high.`;
  if (boardAgrees) {
    return `${times} The balance of the whole board agrees with what was fed in, so the plate's conductance may be off rather than its loss. Check conductance or thickness in the map.`;
  }
  const check = `Check ${checksOf(e).join("; ")}.`;
  const [low, high] = LOSS_RANGE;
  if (lossW >= low && lossW <= high) {
    return `${times} The plate's constants may be off by that factor: a loss of ${formatSignificant(lossW, 2)} W/m²K in place of ${formatSignificant(e.lossWPerM2K, 2)} would balance the books. ${check}`;
  }
  return `${times} No loss that boards have (${low} to ${high} W/m²K) would balance the books. ${check}`;
}
const EXCLUSIVE =
  "What the frames show and what was fed in can't both be right, and the watts told of parts do not stand";

/** What makes watts of the frames several times too many, or those of the meters too few: what is quickest to check
 *  first. */
function checksOf(e: EnergyInput): string[] {
  const plate = e.plateKnown ? "the plate's conductance and loss" : "the board's thickness";
  const time = "the time since power-on: in less time the same warmth takes more watts";
  return [
    "volts, amps and the range of the meter",
    "whether another supply feeds the board",
    "unit and scale of the frames, and the emissivity the camera was set to: one too low shows more rise",
    "the view: nearer, or with a longer lens, than it was drawn for the same spot is larger, and takes more watts",
    ...(e.secondsOn === null ? [] : [time]),
    `${plate} in the map, and whether it is the map of this board`,
  ];
}

/** Less heat than power: the causes that are large enough, each with its number. */
function missingMeans(e: EnergyInput, seen: Watts, missing: Watts): string {
  const leastW = missing.powerW - missing.sigmaW;
  const ohm = formatResistance(missing.powerW / e.amps ** 2);
  const lead = path(e, missing.powerW, leastW);
  const causes = [
    warmElsewhere(e, seen),
    inBodies(e, leastW),
    lead,
    hiddenFace(e, leastW),
    farSide(e, leastW),
    perhapsNotYetWarm(e),
  ].filter((cause) => cause !== null);
  if (causes.length === 0) {
    return `None of the usual places holds as much as is missing: leads and tracks would need ${ohm} where ${pathRange()} are usual, and a source under a shield or on the other side would have shown. Check volts and amps at the board${e.secondsOn === null ? "" : ", the seconds that were told"}, and the plate's constants.`;
  }
  const notPath =
    lead === null
      ? ` Leads and tracks alone are not it: they would need ${ohm} where ${pathRange()} are usual.`
      : "";
  return `What is missing can mean: ${causes.join("; or ")}.${notPath}`;
}

/** Heat that parts hold themselves, in the first seconds: watts of a known time count what has come into the board. */
function inBodies({ volts, amps, secondsOn }: EnergyInput, leastW: number): string | null {
  if (secondsOn === null) return null;
  const mostW = volts * amps * Math.min(1, BODY_LAG_S / secondsOn);
  if (mostW < leastW) return null;
  return `heat is still in the parts themselves, which give it to the board within some seconds: ${formatSignificant(secondsOn, 2)} s after power-on up to ${formatPowerSize(mostW)}`;
}

/** Without a clock a board that looks as if it had come to rest may still warm. */
function perhapsNotYetWarm(e: EnergyInput): string | null {
  if (e.secondsOn !== null || !e.takenAtRest) return null;
  return `heat still goes into warming the board, if the power had been on for less than some ${restTime(e)}`;
}

function restTime({ timeConstantS }: EnergyInput): string {
  const seconds = REST_CONSTANTS * timeConstantS;
  return seconds < 90 ? `${formatSignificant(seconds, 1)} s` : `${Math.round(seconds / 60)} min`;
}

function path({ amps }: EnergyInput, missingW: number, leastW: number): string | null {
  const ohm = missingW / amps ** 2;
  if (leastW / amps ** 2 > PATH_OHM[1]) return null;
  const usual = ohm < PATH_OHM[0] ? "less than leads and clips usually have" : `${pathRange()} are usual`;
  return `${formatResistance(ohm)} of leads, clips and tracks between supply and fault take it (${usual}, and the voltage measured at the board's pads tells)`;
}

function pathRange(): string {
  return `${PATH_OHM[0] * 1000} to ${PATH_OHM[1] * 1000} mΩ`;
}

function hiddenFace({ limits }: EnergyInput, leastW: number): string | null {
  const able = limits.filter(({ powerW }) => powerW === null || powerW >= leastW);
  const worst = able[0];
  if (worst === undefined) return null;
  const most =
    worst.powerW === null ? "could lie unseen" : `of up to ${formatPowerSize(worst.powerW)} could lie unseen`;
  return `a source ${most} under the shiny face of ${worst.ref}`;
}

function farSide({ smallestFarW, farSide: side }: EnergyInput, leastW: number): string | null {
  if (smallestFarW === null || smallestFarW < leastW) return null;
  return `a part on the ${side} side could take up to ${formatPowerSize(smallestFarW)} without showing through`;
}

/** The board as a whole is warmer than its sources make it. */
function warmElsewhere({ boardLoss }: EnergyInput, seen: Watts): string | null {
  if (boardLoss === null) return null;
  const { powerW, sigmaW } = boardLoss;
  if (powerW - seen.powerW < DIFFERS * Math.hypot(sigmaW, seen.sigmaW)) return null;
  return `heat that none of the sources found explains: the board as a whole gives off ${formatPower(powerW, sigmaW).text}`;
}
