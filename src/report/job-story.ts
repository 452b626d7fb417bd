// report: everything that was said of a job → its story, line by line in the order of the work.
import type { Job, JobAttempt } from "../job/job.js";
import type { JobReportModel } from "./job-report-model.js";
import {
  actionText,
  momentText,
  oneLine,
  placeText,
  powerText,
  readingText,
  sincePowerOn,
} from "./job-words.js";
import type { DocumentBlock, DocumentCell } from "./report-document.js";

interface Line {
  readonly seq: number;
  readonly cells: readonly DocumentCell[];
}

/** What was done and seen, in order: attempts, actions, remarks, readings, maps. */
export function jobStory({ job }: JobReportModel): DocumentBlock[] {
  const lines: Line[] = [
    ...job.boards.map(({ seq, at, name, file }) => line(seq, at, "Board map", [`${name}, from ${file}`])),
    ...job.attempts.map((attempt) =>
      line(attempt.seq, attempt.at, `Attempt ${attempt.attempt.number}`, attemptWords(attempt)),
    ),
    ...job.actions.map((action) =>
      line(action.seq, action.at, "Action", [
        actionText(action),
        ...(action.remark ? [oneLine(action.remark)] : []),
      ]),
    ),
    ...job.remarks.map(({ seq, at, text }) => line(seq, at, "Remark", [oneLine(text)])),
    ...readingLines(job),
  ].sort((a, b) => a.seq - b.seq);
  if (lines.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "What was done, in order" },
    {
      kind: "table",
      label: "What was done, in order",
      columns: [
        { title: "When", as: "whole" },
        { title: "What", as: "whole" },
        { title: "Details", as: "words" },
      ],
      rows: lines.map(({ cells }) => cells),
    },
  ];
}

function line(seq: number, at: string, what: string, details: readonly string[]): Line {
  return { seq, cells: [momentText(at), what, details] };
}

function attemptWords(attempt: JobAttempt): string[] {
  const { conditions } = attempt.attempt;
  const power = powerText(attempt);
  const time = sincePowerOn(attempt);
  const sides = attempt.attempt.views.map(({ view }, i) => attempt.views[i]?.side ?? view?.side ?? "no view");
  return [
    ...(conditions.healthy ? ["A good board, taken to know what is normal."] : []),
    ...(power === "" ? ["Volts and amps were not noted."] : [power]),
    `Seen: ${sides.join(" and ")}${time === null ? "" : `, ${time}`}${conditions.connected.length === 0 ? "" : `; connected: ${conditions.connected.map(oneLine).join(", ")}`}`,
    oneLine(attempt.findings.verdict),
    ...(conditions.remark === null ? [] : [oneLine(conditions.remark)]),
  ];
}

/** Readings that were taken one after the other make one line. */
function readingLines({ readings, entries }: Job): Line[] {
  const lines: { seq: number; at: string; last: number; texts: string[] }[] = [];
  const others = entries
    .filter(({ said }) => said.type !== "reading" && said.type !== "reference")
    .map(({ seq }) => seq);
  for (const reading of [...readings].sort((a, b) => a.seq - b.seq)) {
    const text = `${placeText(reading)} ${readingText(reading.measure, reading.value, reading.overRange)}`;
    const group = lines.at(-1);
    const parted = group === undefined || others.some((seq) => seq > group.last && seq < reading.seq);
    if (parted) lines.push({ seq: reading.seq, at: reading.at, last: reading.seq, texts: [text] });
    else {
      group.texts.push(text);
      group.last = reading.seq;
    }
  }
  return lines.map(({ seq, at, texts }) =>
    line(seq, at, texts.length === 1 ? "Reading" : "Readings", [texts.join("; ")]),
  );
}
