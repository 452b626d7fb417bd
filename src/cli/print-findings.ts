// cli: findings → what a terminal shows: verdict, next step, ranked table, what is no heat, notes.

import { formatProbability, formatQuantity, formatToSigma } from "../core/format-quantity.js";
import type { Findings, Hotspot, Suspect } from "../findings/findings-schema.js";
import {
  describeEnergy,
  flagMeaning,
  hotspotPlace,
  hotspotPower,
  nearestParts,
  sideWithOdds,
  suspectPower,
  testedSigmaK,
  viewWords,
} from "../report/describe-findings.js";
import { isShown } from "../report/is-shown.js";
import { ARTEFACT_WORDS } from "../report/picture-marks.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { noteLines } from "./note-lines.js";
import { textTable } from "./text-table.js";

/** More artefacts than this hide what matters; report and JSON list them all. */
const MOST_ARTEFACTS = 5;

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
        { title: "Side", right: true },
        { title: "Rise", right: true },
        { title: "Source at", right: true },
        { title: "Flags" },
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
    ...(hotspot === undefined ? ["", "", "", ""] : hotspotCells(hotspot, findings)),
  ];
}

function hotspotCells(hotspot: Hotspot, findings: Findings): string[] {
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

function artefactLines(findings: Findings): string[] {
  if (findings.artefacts.length === 0) return [];
  const lines = findings.artefacts.slice(0, MOST_ARTEFACTS).map((artefact) => {
    const rise =
      artefact.riseK === null
        ? ""
        : `, ${formatToSigma(artefact.riseK, testedSigmaK(findings, artefact.view), "K")}`;
    const view = findings.otherSide ? ` of the ${viewWords(findings, artefact.view)}` : "";
    const place = `${Math.round(artefact.px[0])}, ${Math.round(artefact.px[1])} px${view}`;
    return visibleText(`  ${ARTEFACT_WORDS[artefact.kind]} at ${place}${rise}: ${artefact.reason}`);
  });
  const rest = findings.artefacts.length - lines.length;
  if (rest > 0) lines.push(`  and ${rest} more`);
  return ["", "Seen, and judged to be no heat:", ...lines];
}
