// suspects: a source and its candidates → the evidence in short plain lines.
import { formatPower } from "../core/format-quantity.js";

/** What is known of a part as a source. */
export interface SuspectEvidence {
  readonly ref: string;
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** Peak of the smoothed rise on it, K. */
  readonly peakRiseK: number;
  readonly evidence: number;
  /** Distance of the hotspot's place from the part's edge, mm; null where the hotspot has no peak of its own. */
  readonly distanceMm: number | null;
  readonly sigmaMm: number | null;
  readonly farSide: boolean;
  readonly bodyShare: number;
  readonly normallyWarm: boolean;
  /** The next best named part, and by what factor it is less likely; null if there is none. */
  readonly runnerUp: { readonly ref: string; readonly odds: number } | null;
  readonly shiny: boolean;
}

/** Say what speaks for and against a part, most telling first. */
export function explainSuspect(e: SuspectEvidence): string[] {
  const lines: string[] = [];
  if (e.distanceMm !== null && e.sigmaMm !== null) {
    const where =
      e.distanceMm === 0
        ? "lies on this part"
        : `lies ${e.distanceMm.toFixed(e.distanceMm < 1 ? 2 : 1)} mm from this part's edge`;
    lines.push(`The centre of the heat ${where} (± ${e.sigmaMm.toFixed(2)} mm).`);
  } else {
    lines.push("The heat makes no peak of its own; its spread over the board points to this part.");
  }
  lines.push(
    `${formatPower(e.powerW, e.powerSigmaW).text} in this part would spread over the board as the frames show.`,
  );
  if (e.farSide) lines.push("It sits on the other side: what is seen came through the board.");
  else if (e.bodyShare > 0.02) lines.push("Its body is warmer than the board around it, as a source's is.");
  else lines.push("Against: its body is no warmer than the board around it.");
  if (e.runnerUp !== null && e.runnerUp.odds < 1000) {
    lines.push(
      `${e.runnerUp.ref} would explain the frames too, ${e.runnerUp.odds < 1.5 ? "about as well" : `${e.runnerUp.odds.toFixed(0)} times less likely`}.`,
    );
  }
  if (e.normallyWarm) lines.push("It warms on a healthy board too, so its heat is not counted as a fault.");
  if (e.shiny) lines.push("Against: its finish is shiny, and what it shows may be the room.");
  return lines;
}
