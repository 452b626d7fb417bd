// suspects: a part that might stand in a source's place → the evidence for and against it, in short plain lines.

import { ALIKE_ODDS, byOdds, lessLikely, placeLine, sharedNetLine } from "./evidence-lines.js";
import { type SideEvidence, sideLine } from "./side-line.js";

/** What is known of a part that might stand in the place of the best one. */
export interface AlternativeEvidence {
  /** The part that explains the heat best; null for a place that no region names. */
  readonly bestRef: string | null;
  /** By what factor this one is less likely than the best. */
  readonly odds: number;
  readonly distanceMm: number | null;
  readonly sigmaMm: number | null;
  readonly farSide: boolean;
  /** Where both sides were seen and it sits on another one than the best: what the views say of it. */
  readonly sides?: SideEvidence | null;
  readonly sharedNet: { readonly ref: string; readonly net: string } | null;
}

/** Say what speaks for and against a part that is not the best explanation of a hotspot. */
export function explainAlternative(e: AlternativeEvidence): string[] {
  const best = e.bestRef ?? "a place that the map does not name";
  const lines = [
    e.odds < 1 / ALIKE_ODDS
      ? `It explains better than ${best} what was taken for heat there${byOdds(1 / e.odds)}.`
      : `It could make the heat that ${best} explains best, ${e.odds < ALIKE_ODDS ? "about as well" : `but is ${lessLikely(e.odds)}`}.`,
  ];
  if (e.distanceMm !== null && e.sigmaMm !== null) lines.push(placeLine(e.distanceMm, e.sigmaMm));
  if (e.farSide) lines.push("It sits on the other side: its heat would come through the board.");
  if (e.sides) lines.push(sideLine(e.sides));
  if (e.sharedNet !== null) lines.push(sharedNetLine(e.sharedNet));
  return lines;
}
