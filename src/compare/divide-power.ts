// compare: two attempts and the parts that heat in both → by what the later one's input power differs.
import { formatSignificant } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import type { Findings } from "../findings/findings-schema.js";
import type { Comparison } from "./comparison-schema.js";
import { type LogRatio, sharedSigma } from "./strength-ratio.js";

/** Volts and amps of one attempt together are good to this share (common practice, no source), and the share that leads
 *  and tracks take differs from one attempt to the next by about as much again. */
const FED_SIGMA = 0.05;
/** Part of the scatter of two attempts that the normally warm parts of a board do not share: how much each of them had
 *  to do. */
const WARM_SIGMA = 0.2;
/** Where nothing tells the power it is taken as equal, and known to this share: nobody sets volts and current limit
 *  anew exactly. */
const UNTOLD_SIGMA = 0.15;

/** A normally warm part that heats in both attempts. */
export interface WarmPart {
  readonly ref: string;
  readonly ratio: LogRatio;
}

/** What is divided out, and what may be expected of heat that is no longer, or not yet, there. */
export interface Division extends Readonly<Comparison["division"]> {
  /** How many times as much power the later attempt would have had to show heat of the earlier one by, at least; for
   *  heat of the later one in the earlier attempt the inverse of `towardsBefore`. */
  readonly towardsAfter: number;
  readonly towardsBefore: number;
  /** The part of `logSigma` that is the error of all watts of the two attempts. */
  readonly shared: number;
  readonly note: Note;
}

/** Fed watts; null where volts or amps are not known. */
export function fedWatts({ inputs: { volts, amps } }: Findings): number | null {
  return volts === null || amps === null || !(volts * amps > 0) ? null : volts * amps;
}

/** Find by what the input power differs: by volts × amps where both attempts state them, else by the normally warm
 *  parts that both see heat, else not at all.
 *  A part that is gone takes its share of the amps with it, so for gone and new heat the volts speak as well: at the
 *  same volts a part that still conducts would take what it took.
 *  @param warm normally warm parts that heat in both, with what measures their heat.
 */
export function dividePower(before: Findings, after: Findings, warm: readonly WarmPart[]): Division {
  const [fedBefore, fedAfter] = [fedWatts(before), fedWatts(after)];
  if (fedBefore !== null && fedAfter !== null) {
    const factor = fedAfter / fedBefore;
    const volts2 = (after.inputs.volts! / before.inputs.volts!) ** 2;
    return {
      by: "fed",
      factor,
      logSigma: FED_SIGMA,
      towardsAfter: leastPower(factor, volts2),
      towardsBefore: 1 / leastPower(1 / factor, 1 / volts2),
      shared: 0,
      note: note(
        "N_POWER_DIVIDED",
        `Input power was divided out: ${watts(fedBefore)} were fed in the earlier attempt and ${watts(fedAfter)} in the later one.`,
      ),
    };
  }
  if (warm.length > 0) {
    let sum = 0;
    let weights = 0;
    let shared = 0;
    for (const { ratio } of warm) {
      const { log, sigma } = ratio;
      const weight = 1 / (sigma ** 2 + WARM_SIGMA ** 2);
      sum += weight * log;
      weights += weight;
      shared += weight * sharedSigma(ratio);
    }
    const factor = Math.exp(sum / weights);
    const names = warm.map(({ ref }) => ref).join(", ");
    return {
      by: "warm",
      factor,
      logSigma: Math.sqrt(1 / weights),
      towardsAfter: Math.min(1, factor),
      towardsBefore: Math.max(1, factor),
      shared: shared / weights,
      note: note(
        "N_POWER_DIVIDED",
        `Volts and amps are not known of both attempts. The parts that are normally warm (${names}) stand for the input power: the later attempt had ${formatSignificant(factor, 2)} times that of the earlier one.`,
      ),
    };
  }
  return {
    by: "none",
    factor: 1,
    logSigma: UNTOLD_SIGMA,
    towardsAfter: 1,
    towardsBefore: 1,
    shared: 0,
    note: note(
      "N_POWER_DIVIDED",
      "No input power was divided out: volts and amps are not known of both attempts, and no part that is normally warm heats in both. Hotter and cooler are as the frames show them.",
    ),
  };
}

/** By how many times the power of a part that still conducts as it did has changed, at least. It goes with the square
 *  of the volts, or stays where a regulator sets it; more is fed in only where the volts rose as well: at the same
 *  volts it is another part that took it.
 */
function leastPower(factor: number, volts2: number): number {
  return Math.max(Math.min(1, volts2), Math.min(factor, volts2));
}

function watts(value: number): string {
  return `${formatSignificant(value, 3)} W`;
}
