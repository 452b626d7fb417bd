// report: the whole evidence of a job → the table of suspects with what speaks for and against each.
import { formatProbability } from "../core/format-quantity.js";
import type { Evidence, JobSuspect, SuspectState } from "../evidence/evidence-schema.js";
import type { JobReportModel } from "./job-report-model.js";
import { oneLine } from "./job-words.js";
import type { DocumentBlock, MarkShape } from "./report-document.js";

/** What each state is called. */
export const STATE_WORDS: Readonly<Record<SuspectState, string>> = Object.freeze({
  open: "open",
  cleared: "cleared",
  cured: "cured",
  unseen: "not looked at since",
  normallyWarm: "warm anyway",
});
const STATE_MARKS: Readonly<Record<SuspectState, MarkShape>> = Object.freeze({
  open: "square",
  cleared: "ring",
  cured: "disc",
  unseen: "gap",
  normallyWarm: "wave",
});

/** Suspects from here on get a row of their own; those below are named in one line. */
const LEAST_PROBABILITY = 0.05;
const MOST_ROWS = 12;
const MOST_NAMED = 12;
const NAMED_PROBABILITY = 0.01;

const NOTHING_POINTS = "Nothing that was measured points to a part, so no chances are told.";

/** … beside parts that are listed for what was done to them. */
export const BEFORE_MEASUREMENT =
  "Nothing that was measured points to a part: chances are those from before any measurement.";

/** Suspects of the whole evidence. */
export function jobSuspects({ job, evidence }: JobReportModel): DocumentBlock[] {
  if (evidence === null) return [];
  const { suspects } = evidence;
  // Chances from before any measurement, under a verdict that names no part, would be read as an answer.
  const isPointed = evidence.pointsToPart !== false;
  const listed = suspects
    .filter(
      ({ probability, stillFaulty, state, changed }) =>
        (isPointed && Math.max(probability, stillFaulty) >= LEAST_PROBABILITY) ||
        state === "cleared" ||
        state === "cured" ||
        state === "unseen" ||
        changed.length > 0,
    )
    .slice(0, MOST_ROWS);
  const rest = suspects.filter(
    (suspect) => isPointed && !listed.includes(suspect) && suspect.probability >= NAMED_PROBABILITY,
  );
  const named = rest
    .slice(0, MOST_NAMED)
    .map(({ ref, probability }) => `${ref} ${formatProbability(probability)}`);
  const isUnseen = suspects.some(({ state }) => state === "unseen");
  const more = rest.length > named.length ? ` and ${rest.length - named.length} more` : "";
  return [
    { kind: "heading", level: 2, text: "Suspects, by all evidence" },
    ...(listed.length === 0
      ? [{ kind: "paragraph", text: isPointed ? "No part stands out." : NOTHING_POINTS } as const]
      : [
          ...(isPointed ? [] : [{ kind: "paragraph", text: BEFORE_MEASUREMENT } as const]),
          suspectsTable(listed),
        ]),
    ...(named.length === 0
      ? []
      : [{ kind: "paragraph", text: `With little chance: ${named.join(", ")}${more}.` } as const]),
    {
      kind: "paragraph",
      text:
        (job.boards.length === 0 && suspects.length === 0
          ? "No part can be named: the job has no board map yet. "
          : isPointed
            ? `None of the named parts: ${formatProbability(evidence.unexplained)}. `
            : "") +
        `More than one fault: ${formatProbability(evidence.secondFault)}. ` +
        `All that was wrong is mended: ${formatProbability(evidence.mended)}${isUnseen ? ", by how often such work helps alone" : ""}.`,
    },
    ...countedReadings(evidence),
  ];
}

/** Whether readings count in the figures above; nothing where there are none, or none could be weighed. */
function countedReadings({ readings, options, suspects }: Evidence): DocumentBlock[] {
  const isWeighed = suspects.some(({ readingRatio }) => (readingRatio ?? 1) !== 1);
  if (readings.length === 0 || (options.useReadings && !isWeighed)) return [];
  const text = options.useReadings
    ? "Readings count in these figures by the ratio (×) told for each part."
    : "Readings do not count in these figures: they were left out on demand (--without-readings).";
  return [{ kind: "paragraph", text }];
}

function suspectsTable(suspects: readonly JobSuspect[]): DocumentBlock {
  const boards = new Set(suspects.map(({ board }) => board));
  return {
    kind: "table",
    label: "Suspects, by all evidence",
    columns: [
      { title: "Part" },
      { title: "At fault", as: "number" },
      { title: "Still", as: "number" },
      { title: "State", as: "whole" },
      { title: "For", as: "words" },
      { title: "Against, or how it was cleared", as: "words" },
    ],
    rows: suspects.map((suspect) => {
      const where = [suspect.side, ...(boards.size > 1 && suspect.board ? [suspect.board] : [])].join(", ");
      return [
        [`${suspect.ref} (${where})`, ...suspect.changed].map(oneLine).join(", "),
        counted(suspect, suspect.probability),
        counted(suspect, suspect.stillFaulty),
        { mark: STATE_MARKS[suspect.state], text: STATE_WORDS[suspect.state] },
        suspect.for.map(oneLine),
        // What cleared it may be what speaks against it.
        [...new Set([...suspect.against, ...(suspect.cleared === null ? [] : [suspect.cleared])])].map(
          oneLine,
        ),
      ];
    }),
  };
}

function counted({ state }: JobSuspect, probability: number): string {
  return state === "normallyWarm" ? "not counted" : formatProbability(probability);
}
