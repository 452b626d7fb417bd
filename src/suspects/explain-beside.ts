// suspects: a part right beside a source that may heat as well → the evidence for and against it, in short plain lines.
import { formatPower, formatProbability, formatSignificant } from "../core/format-quantity.js";
import { LEAST_EVIDENCE } from "../sources/fit-defaults.js";
import { POSSIBLE_REFLECTION } from "./explain-suspect.js";

/** What is known of a part right beside a source. */
export interface BesideEvidence {
  /** The part that heats beside it. */
  readonly ref: string;
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** χ² that it takes off beyond what uneven copper makes of the other heat, ÷ the residual scale. */
  readonly evidence: number;
  /** Probability that what its face shows is the room, mirrored. */
  readonly mirrorChance: number;
}

/** Say what speaks for and against a part that may heat beside one that does. Lines that speak against begin so. */
export function explainBeside(e: BesideEvidence): string[] {
  const watts = formatPower(e.powerW, e.powerSigmaW).text;
  const wanted = e.evidence < LEAST_EVIDENCE ? `; a part by itself needs ${LEAST_EVIDENCE}` : "";
  const lines = [
    `Beside ${e.ref} the frames fit better with ${watts} in this part as well (χ² by ${formatSignificant(e.evidence, 2)}${wanted}).`,
    `Against: copper that spreads the heat of ${e.ref} unevenly can make the same.`,
  ];
  if (e.mirrorChance > POSSIBLE_REFLECTION) {
    lines.push(
      `Against: a reflection can't be ruled out (${formatProbability(e.mirrorChance)} by its face and the board around it).`,
    );
  }
  return lines;
}
