// report: an analysis → the sections of report.html, each a piece of HTML or "" where it has nothing to say.

import {
  formatPower,
  formatProbability,
  formatQuantity,
  formatSignificant,
  formatToSigma,
} from "../core/format-quantity.js";
import type { Analysis } from "../findings/analysis.js";
import type { Findings, Hotspot, InputFile } from "../findings/findings-schema.js";
import { AID_STATEMENT, CAUTIONS } from "./cautions.js";
import {
  describeAlignment,
  describeEnergy,
  describeNoise,
  flagMeaning,
  hotspotPlace,
  nearestParts,
  suspectPower,
} from "./describe-findings.js";
import { escapeHtml } from "./escape-html.js";
import { htmlTable } from "./html-table.js";
import { ARTEFACT_WORDS, artefactLetter } from "./picture-marks.js";

const MOST_NEAREST = 4;

/** Verdict and the next measurement. */
export function verdictSection({ findings }: Analysis): string {
  const next =
    findings.nextStep === null ? "" : `<p class="next"><b>Next:</b> ${escapeHtml(findings.nextStep)}</p>`;
  const weak = findings.alignment.trusted
    ? ""
    : `<p class="warning">${escapeHtml(describeAlignment(findings))}</p>`;
  return `<p class="verdict">${escapeHtml(findings.verdict)}</p>${next}${weak}`;
}

/** The picture, with a description for those who do not see it. */
export function pictureSection({ findings, view }: Analysis, overlayPng: Uint8Array): string {
  const shown = findings.suspects.slice(0, 3).map((suspect) => suspect.ref);
  const alt =
    `Baseline frame in grey with the rise in colour where it is significant${view === null ? "" : ", board outline and parts"}; ` +
    `${count(findings.hotspots.length, "hotspot")}${shown.length === 0 ? "" : `, first suspects: ${shown.join(", ")}`}. ` +
    "The tables below give all of it in numbers.";
  const side = view === null ? "" : ` Seen from the ${view.side} side.`;
  const caption =
    "Grey: the baseline frame. Colour: the rise where it stands out of the noise." +
    ` Crosses: sources of heat. Dashed frames: parts that are warm on a healthy board too. Dashed rings: no heat, see below.${side}`;
  const data = Buffer.from(overlayPng).toString("base64");
  return `<figure><div class="scroll" role="region" tabindex="0" aria-label="Picture"><img src="data:image/png;base64,${data}" alt="${escapeHtml(alt)}"></div><figcaption>${escapeHtml(caption)}</figcaption></figure>`;
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
      : `<p>None of the named parts: ${escapeHtml(formatProbability(findings.unexplained))}.</p>`;
  return `<h2>Suspects</h2>${table}${rest}`;
}

/** Every hotspot in numbers. */
export function hotspotsSection({ findings }: Analysis): string {
  if (findings.hotspots.length === 0) return "<h2>Hotspots</h2><p>None.</p>";
  const sigmaK = findings.noise.testedSigmaK;
  const withOnset = findings.hotspots.some((hotspot) => hotspot.onsetS !== null);
  const rows = findings.hotspots.map((hotspot) => [
    String(hotspot.rank),
    peakRise(hotspot, sigmaK),
    `${formatSignificant(hotspot.significance, 2)} σ`,
    hotspotPlace(hotspot),
    hotspotArea(hotspot),
    formatPower(hotspot.powerW, hotspot.powerSigmaW).text,
    ...(withOnset
      ? [
          formatQuantity(hotspot.onsetS, hotspot.onsetSigmaS ?? null, "s").text,
          formatQuantity(hotspot.rateKPerS ?? null, hotspot.rateSigmaKPerS ?? null, "K/s").text,
        ]
      : []),
    nearestParts(hotspot, MOST_NEAREST),
    hotspot.flags.map(flagMeaning),
  ]);
  const onset = withOnset
    ? [
        { title: "Onset", as: "number" as const },
        { title: "Warming", as: "number" as const },
      ]
    : [];
  return `<h2>Hotspots</h2>${htmlTable(
    "Hotspots",
    [
      { title: "Rank", as: "number" },
      { title: "Peak rise", as: "number" },
      { title: "Rise ÷ noise", as: "number" },
      { title: "Source at", as: "number" },
      { title: "Area", as: "number" },
      { title: "Heat", as: "number" },
      ...onset,
      { title: "Nearest parts", as: "words" },
      { title: "Mind", as: "words" },
    ],
    rows,
  )}`;
}

/** As the camera shows it and, where the finish is known, as the surface truly warmed. */
function peakRise({ peakRiseK, trueRiseK }: Hotspot, sigmaK: number): string {
  const shown = formatQuantity(peakRiseK, sigmaK, "K").text;
  return typeof trueRiseK === "number" ? `${shown} (surface ${formatSignificant(trueRiseK, 3)} K)` : shown;
}

/** A source without a peak of its own covers no area. */
function hotspotArea(hotspot: Hotspot): string {
  if (hotspot.areaPx === 0) return "–";
  return hotspot.areaMm2 === null ? `${hotspot.areaPx} px` : `${formatSignificant(hotspot.areaMm2, 2)} mm²`;
}

/** What was seen and judged to be no heat. */
export function artefactsSection({ findings }: Analysis): string {
  if (findings.artefacts.length === 0) return "";
  const rows = findings.artefacts.map((artefact, i) => [
    artefactLetter(i),
    ARTEFACT_WORDS[artefact.kind],
    `${formatSignificant(artefact.px[0], 3)}, ${formatSignificant(artefact.px[1], 3)} px`,
    `${artefact.areaPx} px`,
    formatToSigma(artefact.riseK, findings.noise.testedSigmaK, "K"),
    artefact.reason,
  ]);
  return `<h2>Seen, and judged to be no heat</h2>${htmlTable(
    "Artefacts",
    [
      { title: "Ring" },
      { title: "Kind" },
      { title: "At", as: "number" },
      { title: "Area", as: "number" },
      { title: "Rise", as: "number" },
      { title: "Reason", as: "words" },
    ],
    rows,
  )}`;
}

/** Energy, alignment, noise and threshold in words, then the notes. */
export function trustSection({ findings }: Analysis): string {
  const energy = describeEnergy(findings);
  const notes = findings.notes.map((note) => {
    const word = note.severity === "warning" ? '<span class="warning">Mind:</span> ' : "";
    return `<li>${word}${escapeHtml(note.text)} <span class="quiet">(${escapeHtml(note.code)})</span></li>`;
  });
  return [
    energy === null ? "" : `<h2>Energy</h2><p>${escapeHtml(energy)}</p>`,
    "<h2>How far to trust it</h2>",
    `<p>${escapeHtml(describeAlignment(findings))}</p><p>${escapeHtml(describeNoise(findings))}</p>`,
    notes.length === 0 ? "" : `<h2>Notes</h2><ul class="cautions">${notes.join("")}</ul>`,
  ].join("");
}

/** The files that went in with their hashes, and the options that were used. */
export function inputsSection({ findings, board }: Analysis): string {
  const files = [
    ...findings.inputs.baseline.map((file) => inputRow("baseline", file)),
    ...findings.inputs.powered.map((file) => inputRow("powered", file)),
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
  return `<h2>What went in</h2>${table}<p>${escapeHtml(boardLine)} ${escapeHtml(captureWords(findings))}</p>${optionsTable(findings)}`;
}

/** What to mind before the next step. */
export function cautionsSection(): string {
  const items = CAUTIONS.map((caution) => `<li>${escapeHtml(caution)}</li>`).join("");
  return `<h2>Before you power the board again</h2><ul class="cautions">${items}</ul><p><b>${escapeHtml(AID_STATEMENT)}</b></p>`;
}

function inputRow(role: string, file: InputFile): string[] {
  return [file.file ?? "(in memory)", role, `${file.width} × ${file.height}`, file.sha256 ?? "–"];
}

function captureWords(findings: Findings): string {
  const { scale, rateHz } = findings.inputs;
  return [
    scale === null ? "" : `Scale: ${scale.lowC} °C to ${scale.highC} °C.`,
    rateHz === null ? "" : `Burst from power-on at ${rateHz} Hz.`,
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

function count(number: number, word: string): string {
  return `${number === 0 ? "no" : number} ${word}${number === 1 ? "" : "s"}`;
}
