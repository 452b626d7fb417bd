// report: an analysis → the sections of report.html, each a piece of HTML or "" where it has nothing to say.

import {
  formatProbability,
  formatSeconds,
  formatSignificant,
  formatToSigma,
} from "../core/format-quantity.js";
import { capitalised } from "../core/sentence-case.js";
import type { Analysis } from "../findings/analysis.js";
import type { Findings, InputFile, ViewName } from "../findings/findings-schema.js";
import { type AlikeArtefacts, alikeArtefacts } from "./alike-artefacts.js";
import { AID_STATEMENT, CAUTIONS } from "./cautions.js";
import {
  describeAlignment,
  describeEnergy,
  describeNoise,
  suspectPower,
  testedSigmaK,
  viewWords,
} from "./describe-findings.js";
import { htmlTable } from "./html-table.js";
import { ARTEFACT_WORDS, artefactLetter } from "./picture-marks.js";
import { proseHtml } from "./prose-html.js";

/** Verdict and the next measurement. */
export function verdictSection({ findings }: Analysis): string {
  const next =
    findings.nextStep === null ? "" : `<p class="next"><b>Next:</b> ${proseHtml(findings.nextStep)}</p>`;
  const weak = eachView(findings, ({ where, alignment }) =>
    alignment.trusted
      ? ""
      : `<p class="warning">${proseHtml(`${where}${describeAlignment({ alignment })}`)}</p>`,
  );
  return `<p class="verdict">${proseHtml(findings.verdict)}</p>${next}${weak}`;
}

/** What was measured of one view, and how to begin a sentence on it. */
interface MeasuredView extends Pick<Findings, "alignment" | "noise" | "threshold"> {
  readonly where: string;
}

/** Word something of each view; with one view alone it needs no name. */
function eachView(findings: Findings, word: (view: MeasuredView) => string): string {
  const { alignment, noise, threshold, otherSide } = findings;
  if (!otherSide) return word({ where: "", alignment, noise, threshold });
  const where = (name: ViewName): string => `${capitalised(viewWords(findings, name))}: `;
  return [
    word({ where: where("primary"), alignment, noise, threshold }),
    word({
      where: where("other"),
      alignment: otherSide.alignment,
      noise: otherSide.noise,
      threshold: { ...threshold, riseK: otherSide.threshold.riseK },
    }),
  ].join("");
}

/** Parts by probability, each with its reasons. */
export function suspectsSection({ findings }: Analysis): string {
  if (findings.suspects.length === 0) return "";
  const rows = findings.suspects.map((suspect, i) => [
    String(i + 1),
    `${suspect.ref} (${suspect.side})`,
    suspect.normallyWarm ? "not counted" : formatProbability(suspect.probability),
    suspectPower(suspect, findings),
    suspect.hotspot === null ? "–" : String(suspect.hotspot),
    suspect.why,
  ]);
  const table = htmlTable(
    "Suspects",
    [
      { title: "No.", as: "number" },
      { title: "Part", as: "name" },
      { title: "Probability", as: "number" },
      { title: "Heat", as: "number" },
      { title: "Hotspot", as: "number" },
      { title: "Why", as: "words" },
    ],
    rows,
  );
  const rest =
    findings.unexplained === null
      ? ""
      : `<p>None of the named parts: ${proseHtml(formatProbability(findings.unexplained))}.</p>`;
  return `<h2>Suspects</h2>${table}${rest}`;
}

/** What was seen and judged to be no heat. */
export function artefactsSection({ findings }: Analysis): string {
  if (findings.artefacts.length === 0) return "";
  const groups = alikeArtefacts(findings);
  const rows = findings.artefacts.map((artefact, i) => [
    artefactLetter(i),
    ARTEFACT_WORDS[artefact.kind],
    ...(findings.otherSide ? [viewWords(findings, artefact.view)] : []),
    `${formatSignificant(artefact.px[0], 3)}, ${formatSignificant(artefact.px[1], 3)} px`,
    `${artefact.areaPx} px`,
    formatToSigma(artefact.riseK, testedSigmaK(findings, artefact.view), "K"),
    reasonOf(groups, artefactLetter(i)),
  ]);
  return `<h2>Seen, and judged to be no heat</h2>${htmlTable(
    "Artefacts",
    [
      { title: "Ring" },
      { title: "Kind" },
      ...(findings.otherSide ? [{ title: "View" }] : []),
      { title: "At", as: "number" },
      { title: "Area", as: "number" },
      { title: "Rise", as: "number" },
      { title: "Reason", as: "words" },
    ],
    rows,
  )}`;
}

/** A reason is told at the first ring that it holds for. */
function reasonOf(groups: readonly AlikeArtefacts[], letter: string): string {
  const { reason, places } = groups.find((group) => group.places.some((one) => one.letter === letter))!;
  const first = places[0]!.letter;
  return first === letter ? reason : `as ${first}`;
}

/** Energy, alignment, noise and threshold in words, then the notes. */
export function trustSection({ findings }: Analysis): string {
  const energy = describeEnergy(findings);
  const notes = findings.notes.map((note) => {
    const word = note.severity === "warning" ? '<span class="warning">Mind:</span> ' : "";
    return `<li>${word}${proseHtml(note.text)} <span class="quiet">(${proseHtml(note.code)})</span></li>`;
  });
  return [
    energy === null ? "" : `<h2>Energy</h2><p>${proseHtml(energy)}</p>`,
    "<h2>How far to trust it</h2>",
    eachView(
      findings,
      (view) =>
        `<p>${proseHtml(`${view.where}${describeAlignment(view)}`)}</p><p>${proseHtml(describeNoise(view))}</p>`,
    ),
    notes.length === 0 ? "" : `<h2>Notes</h2><ul class="cautions">${notes.join("")}</ul>`,
  ].join("");
}

/** The files that went in with their hashes, and the options that were used. */
export function inputsSection({ findings, board }: Analysis): string {
  const files = [
    ...findings.inputs.baseline.map((file) => inputRow("baseline", file)),
    ...findings.inputs.powered.map((file) => inputRow("powered", file)),
    ...otherFiles(findings),
  ];
  const table = htmlTable(
    "Input files",
    [{ title: "File" }, { title: "Role" }, { title: "Size", as: "number" }, { title: "SHA-256", as: "hash" }],
    files,
  );
  const boardName = board?.name === undefined ? "" : ` (${board.name})`;
  const boardLine =
    findings.inputs.board === null
      ? "No board map was given."
      : `Board map: ${findings.inputs.board}${boardName}.`;
  return `<h2>What went in</h2>${table}<p>${proseHtml(boardLine)} ${proseHtml(captureWords(findings))}</p>${optionsTable(findings)}`;
}

/** What to mind before the next step. */
export function cautionsSection(): string {
  const items = CAUTIONS.map((caution) => `<li>${proseHtml(caution)}</li>`).join("");
  return `<h2>Before you power the board again</h2><ul class="cautions">${items}</ul><p><b>${proseHtml(AID_STATEMENT)}</b></p>`;
}

function inputRow(role: string, file: InputFile): string[] {
  return [file.file ?? "(in memory)", role, `${file.width} × ${file.height}`, file.sha256 ?? "–"];
}

function otherFiles(findings: Findings): string[][] {
  const { otherSide } = findings;
  if (!otherSide) return [];
  const of = viewWords(findings, "other");
  return [
    ...otherSide.inputs.baseline.map((file) => inputRow(`baseline, ${of}`, file)),
    ...otherSide.inputs.powered.map((file) => inputRow(`powered, ${of}`, file)),
  ];
}

function captureWords(findings: Findings): string {
  const { scale, rateHz, afterS } = findings.inputs;
  return [
    scale === null ? "" : `Scale: ${scale.lowC} °C to ${scale.highC} °C.`,
    rateHz === null ? "" : `Burst from power-on at ${rateHz} Hz.`,
    afterS === undefined ? "" : `Powered frames ${formatSeconds(afterS)} after power-on.`,
  ]
    .filter((part) => part !== "")
    .join(" ");
}

function optionsTable(findings: Findings): string {
  const names = Object.keys(findings.options).sort();
  if (names.length === 0) return "";
  const rows = names.map((name) => [name, optionText(findings.options[name])]);
  return `<h2>Options used</h2>${htmlTable("Options used", [{ title: "Option" }, { title: "Value", as: "words" }], rows)}`;
}

function optionText(value: unknown): string {
  return typeof value === "string" ? value : (JSON.stringify(value) ?? "–");
}
