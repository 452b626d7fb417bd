// cli: findings → what a terminal shows: verdict, next step, ranked table, what is no heat, notes.

import { formatProbability, formatQuantity, formatToSigma } from "../core/format-quantity.js";
import type { Findings, Hotspot, Suspect } from "../findings/findings-schema.js";
import { alikeArtefacts } from "../report/alike-artefacts.js";
import {
  describeEnergy,
  flagMeaning,
  hotspotPlace,
  hotspotPower,
  nearestParts,
  sideWithOdds,
  suspectPower,
  testedSigmaK,
} from "../report/describe-findings.js";
import { isShown } from "../report/is-shown.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { noteLines } from "./note-lines.js";
import { textTable } from "./text-table.js";

/** More reasons why something is no heat, and more places of one, hide what matters; report and JSON list them all. */
const MOST_REASONS = 5;
const MOST_PLACES = 6;

/** Print findings for a person. Every string that came from a file is made visible before it is printed.
 *  @returns text with a last line end.
 */
export function printFindings(findings: Findings, styles: Styles): string {
  const lines = [styles.bold(visibleText(findings.verdict))];
  if (findings.nextStep !== null) lines.push(`Next: ${visibleText(findings.nextStep)}`);
  const rows = tableRows(findings);
  if (rows.length > 0) {
    const [head, ...body] = textTable(
      [
        { title: "No.", right: true },
        { title: "Part" },
        { title: "Probability", right: true },
        { title: "Heat", right: true },
        ...HOTSPOT_COLUMNS,
      ],
      rows,
    );
    lines.push("", styles.dim(head ?? ""), ...body.map((line, i) => (i === 0 ? styles.bold(line) : line)));
    if (findings.unexplained !== null) {
      lines.push(`None of the named parts: ${formatProbability(findings.unexplained)}`);
    }
  }
  lines.push(...flagLines(findings, styles), ...artefactLines(findings));
  const energy = describeEnergy(findings);
  if (energy !== null) lines.push("", visibleText(energy));
  lines.push(...noteLines(findings.notes, styles));
  return `${lines.join("\n")}\n`;
}

/** What `hotspotCells` fills, in its order. */
const HOTSPOT_COLUMNS = [
  { title: "Side", right: true },
  { title: "Rise", right: true },
  { title: "Source at", right: true },
  { title: "Flags" },
] as const;
/** A text for each. */
type TextsOf<Columns extends readonly unknown[]> = { readonly [column in keyof Columns]: string };

/** Suspects in their order; then hotspots that no suspect stands for, so that nothing hot is left out. */
function tableRows(findings: Findings): string[][] {
  const rows: string[][] = [];
  const shown = new Set<number>();
  for (const suspect of findings.suspects) {
    const hotspot = findings.hotspots.find((spot) => spot.rank === suspect.hotspot);
    if (hotspot !== undefined) shown.add(hotspot.rank);
    if (!isShown(suspect)) continue;
    rows.push(suspectRow(rows.length + 1, suspect, hotspot, findings));
  }
  for (const hotspot of findings.hotspots) {
    if (shown.has(hotspot.rank)) continue;
    const near = hotspot.nearest.length === 0 ? "" : `, near ${nearestParts(hotspot, 2)}`;
    rows.push([
      String(rows.length + 1),
      visibleText(`hotspot ${hotspot.rank}${near}`),
      "",
      hotspot.powerW === null ? "" : hotspotPower(hotspot),
      ...hotspotCells(hotspot, findings),
    ]);
  }
  return rows;
}

function suspectRow(
  number: number,
  suspect: Suspect,
  hotspot: Hotspot | undefined,
  findings: Findings,
): string[] {
  return [
    String(number),
    visibleText(`${suspect.ref}${suspect.side === "bottom" ? " (bottom)" : ""}`),
    suspect.normallyWarm ? "warm anyway" : formatProbability(suspect.probability),
    suspect.powerW === null ? "" : suspectPower(suspect, findings),
    ...(hotspot === undefined ? HOTSPOT_COLUMNS.map(() => "") : hotspotCells(hotspot, findings)),
  ];
}

function hotspotCells(hotspot: Hotspot, findings: Findings): TextsOf<typeof HOTSPOT_COLUMNS> {
  return [
    sideWithOdds(hotspot),
    formatQuantity(hotspot.peakRiseK, testedSigmaK(findings, hotspot.view), "K").text,
    hotspotPlace(hotspot),
    visibleText(hotspot.flags.join(", ")),
  ];
}

function flagLines(findings: Findings, styles: Styles): string[] {
  const flags = [...new Set(findings.hotspots.flatMap((hotspot) => hotspot.flags))];
  return flags.map((flag) => styles.warn(visibleText(`${flag}: ${flagMeaning(flag)}`)));
}

/** A line for each reason, with the places that it holds for. */
function artefactLines(findings: Findings): string[] {
  if (findings.artefacts.length === 0) return [];
  const groups = alikeArtefacts(findings);
  const lines = groups.slice(0, MOST_REASONS).map(({ what, reason, places }) => {
    const shown = places.slice(0, MOST_PLACES).map(({ artefact: { px, riseK, view } }) => {
      const rise = riseK === null ? "" : `, ${formatToSigma(riseK, testedSigmaK(findings, view), "K")}`;
      return `${Math.round(px[0])}, ${Math.round(px[1])} px${rise}`;
    });
    const more = places.length - shown.length;
    return visibleText(`  ${what} at ${shown.join("; ")}${more > 0 ? `; and ${more} more` : ""}: ${reason}`);
  });
  const rest = groups.slice(MOST_REASONS).reduce((sum, { places }) => sum + places.length, 0);
  if (rest > 0) lines.push(`  and ${rest} more`);
  return ["", "Seen, and judged to be no heat:", ...lines];
}
