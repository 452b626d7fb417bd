// suspects: what two views of opposite sides show of a source → one line on the side it sits on.
import { formatSignificant } from "../core/format-quantity.js";
import { uncapitalised } from "../core/sentence-case.js";
import { ALIKE_ODDS, byOdds } from "./evidence-lines.js";
import type { SideOdds } from "./weigh-sides.js";

/** A source as the view of one side shows it. */
export interface SideSight {
  readonly side: keyof SideOdds;
  /** Peak of the smoothed rise, K; null where it makes no peak. */
  readonly peakRiseK: number | null;
  /** Gaussian width of the spot, mm; null where it can't be told. */
  readonly widthMm: number | null;
}

/** What is known of the side of a source. */
export interface SideEvidence {
  /** The side of the part that the line is for. */
  readonly side: keyof SideOdds;
  /** Both views. */
  readonly sights: readonly [SideSight, SideSight];
  readonly odds: SideOdds;
}

/** Widths nearer to each other than this factor are alike. */
const ALIKE_WIDTH = 1.1;

/** Say how the two views show a source, and which side has it; what speaks against the part's own side begins so. */
export function sideLine({ side, sights, odds }: SideEvidence): string {
  const shown = sightsLine(sights);
  const likely = odds.top >= odds.bottom ? "top" : "bottom";
  const ratio = Math.max(odds.top, odds.bottom) / Math.min(odds.top, odds.bottom);
  if (ratio < ALIKE_ODDS) return `${shown}: that does not settle its side.`;
  const line = `${shown}: its side is the ${likely}${byOdds(ratio)}.`;
  return likely === side ? line : `Against: ${uncapitalised(line)}`;
}

function sightsLine(sights: SideEvidence["sights"]): string {
  const seen = sights.filter(({ peakRiseK }) => peakRiseK !== null);
  if (seen.length === 0) return "Neither view shows a peak of its own";
  const [first, second] = [...sights].sort(
    (a, b) => (b.peakRiseK ?? Number.NEGATIVE_INFINITY) - (a.peakRiseK ?? Number.NEGATIVE_INFINITY),
  ) as [SideSight, SideSight];
  const lead = `The ${first.side} view shows it ${kelvin(first.peakRiseK!)}`;
  if (second.peakRiseK === null) return `${lead}, the ${second.side} view no peak of it`;
  return `${lead}, the ${second.side} view ${kelvin(second.peakRiseK)}${widthWords(first, second)}`;
}

function widthWords(first: SideSight, second: SideSight): string {
  if (first.widthMm === null || second.widthMm === null) return "";
  const times = second.widthMm / first.widthMm;
  if (times >= ALIKE_WIDTH) return ` and ${formatSignificant(times, 2)} times wider`;
  return times <= 1 / ALIKE_WIDTH ? ` and ${formatSignificant(1 / times, 2)} times narrower` : "";
}

function kelvin(riseK: number): string {
  return `${formatSignificant(riseK, 2)} K`;
}
