// report: the readings of a job → a table with marks, and what a change of the board did to them.
import { type BeforeAfter, beforeAfter } from "../readings/before-after.js";
import type { ReadingClass } from "../readings/classify-reading.js";
import { classifyReadings, type JudgedReading } from "../readings/classify-readings.js";
import type { JobReportModel } from "./job-report-model.js";
import { CLASS_WORDS, oneLine, placeText, READING_CHANGE_WORDS, readingText } from "./job-words.js";
import type { DocumentBlock, DocumentCell, MarkShape } from "./report-document.js";

const CLASS_SHAPES: Readonly<Record<ReadingClass, MarkShape>> = Object.freeze({
  short: "square",
  low: "down",
  asExpected: "ring",
  high: "up",
  open: "gap",
  drifting: "wave",
  unjudged: "dash",
});

/** The readings of a job, judged: from the evidence where it was weighed, else by their references alone. */
export function judgedReadings({ job, evidence }: JobReportModel): readonly JudgedReading[] {
  if (evidence !== null) return evidence.readings;
  return classifyReadings(job.readings, job.references, { changes: job.actions.map(({ seq }) => seq) });
}

/** Every place that was read, with a mark by word and shape; then the places that were read before and after a
 *  change. */
export function jobReadings(model: JobReportModel): DocumentBlock[] {
  const judged = judgedReadings(model);
  if (judged.length === 0) return [];
  const both = beforeAfter(judged).filter(({ before }) => before !== null);
  return [
    { kind: "heading", level: 2, text: "Readings" },
    {
      kind: "table",
      label: "Readings",
      columns: [
        { title: "Place" },
        { title: "Measured" },
        { title: "Reading", as: "number" },
        { title: "Good board", as: "number" },
        { title: "Mark", as: "whole" },
        { title: "Why", as: "words" },
      ],
      rows: judged.map((reading) => [
        placeText(reading),
        reading.state === 0 ? reading.measure : `${reading.measure}, after change ${reading.state}`,
        readingText(reading.measure, reading.value, reading.overRange),
        referenceText(reading),
        markOf(reading),
        oneLine(reading.why),
      ]),
    },
    ...(both.length === 0 ? [] : changesTable(both)),
  ];
}

function changesTable(rows: readonly BeforeAfter[]): DocumentBlock[] {
  return [
    { kind: "heading", level: 3, text: "Before and after a change of the board" },
    {
      kind: "table",
      label: "Readings before and after a change of the board",
      columns: [
        { title: "Place" },
        { title: "Before", as: "number" },
        { title: "Mark", as: "whole" },
        { title: "After", as: "number" },
        { title: "Mark", as: "whole" },
        { title: "Change" },
      ],
      rows: rows.map(({ before, after, change, ...place }) => [
        placeText(place),
        before === null ? "–" : readingText(before.measure, before.value, before.overRange),
        before === null ? "–" : markOf(before),
        readingText(after.measure, after.value, after.overRange),
        markOf(after),
        change === null ? "–" : READING_CHANGE_WORDS[change],
      ]),
    },
  ];
}

function markOf(reading: JudgedReading): DocumentCell {
  return { mark: CLASS_SHAPES[reading.class], text: CLASS_WORDS[reading.class] };
}

function referenceText({ reference }: JudgedReading): string {
  if (reference === null) return "–";
  const lower = readingText(reference.measure, reference.value, reference.overRange);
  if (reference.upTo === undefined) return lower;
  const upper = readingText(reference.measure, reference.upTo, false);
  const [number, unit] = lower.split(" ");
  return upper.endsWith(` ${unit}`) ? `${number}–${upper}` : `${lower}–${upper}`;
}
