// report: a job → the whole report, for whoever repairs.
import { AID_STATEMENT, CAUTIONS } from "./cautions.js";
import { jobBoards } from "./job-boards.js";
import { jobComparisons } from "./job-comparisons.js";
import { jobCourses, jobWatts } from "./job-plots.js";
import { jobProof } from "./job-proof.js";
import { jobReadings } from "./job-readings.js";
import type { JobReportModel } from "./job-report-model.js";
import { jobStory } from "./job-story.js";
import { jobSuspects } from "./job-suspects.js";
import { footText, lastMoment, momentText, oneLine, symptomText } from "./job-words.js";
import type { DocumentBlock, ReportDocument } from "./report-document.js";

/** Tell a job in full: verdict and next measurement first, pictures, evidence, story, and what it rests on. */
export function repairerDocument(model: JobReportModel): ReportDocument {
  const { job, evidence, tool } = model;
  const boards = jobBoards(model, false);
  const withoutMap = job.attempts.filter(({ board }) => board === null).map(({ attempt }) => attempt.number);
  const blocks: DocumentBlock[] = [
    { kind: "paragraph", tone: "verdict", text: verdictText(model) },
    ...(evidence === null
      ? []
      : [{ kind: "next", label: "Measure next", text: oneLine(evidence.next.sentence) } as const]),
    { kind: "facts", label: "The job", rows: jobFacts(model) },
    ...(boards.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "Attempts side by side" } as const,
          boardsText(model),
          ...boards,
        ]),
    ...(withoutMap.length === 0
      ? []
      : [
          {
            kind: "paragraph",
            tone: "quiet",
            text:
              withoutMap.length === 1
                ? `Not drawn, since no board map was given: attempt ${withoutMap[0]}. Its picture lies in its own folder.`
                : `Not drawn, since no board map was given: attempts ${withoutMap.join(", ")}. Their pictures lie in their own folders.`,
          } as const,
        ]),
    ...jobSuspects(model),
    ...jobComparisons(model),
    ...jobCourses(model),
    ...jobWatts(model),
    ...jobReadings(model),
    ...jobStory(model),
    { kind: "heading", level: 2, text: "Before you power the board again" },
    { kind: "list", items: CAUTIONS },
    { kind: "paragraph", tone: "strong", text: AID_STATEMENT },
    ...notesBlocks(model),
    ...jobProof(model),
  ];
  return {
    title: `Job: ${oneLine(job.header.device)}`,
    subtitle: `Job ${job.header.id}, begun ${momentText(job.header.createdAt)}`,
    at: new Date(lastMoment(job)),
    foot: footText(job.header.device, job.header.id, tool),
    blocks,
  };
}

function verdictText({ job, evidence }: JobReportModel): string {
  if (evidence !== null) return oneLine(evidence.verdict);
  const last = job.attempts.at(-1);
  return last === undefined ? "No attempt has been made yet." : oneLine(last.findings.verdict);
}

function jobFacts({ job }: JobReportModel): [string, string][] {
  const { device, complaint, symptom, remark } = job.header;
  const rows: [string, string | null][] = [
    ["Device", device],
    ["Complaint", complaint],
    ["Symptom", symptomText(symptom)],
    ["Remark", remark],
  ];
  return rows.flatMap(([name, text]) => (text === null ? [] : [[name, oneLine(text)] as [string, string]]));
}

function boardsText({ job }: JobReportModel): DocumentBlock {
  const sides = new Set(job.attempts.flatMap(({ views }) => views.map((view) => view?.side)));
  const bottom = sides.has("bottom")
    ? " Bottom sides are drawn as seen from the top, through the board."
    : "";
  return {
    kind: "paragraph",
    tone: "quiet",
    text:
      "All boards in the same size and on the same scale of colours; colour stands only where the rise counts. Crosses: sources " +
      `of heat. Thick outlines: suspects, thin ones: on the other side. Dotted: parts that had been changed by then. Dashed: warm anyway.${bottom}`,
  };
}

/** Warnings of the attempts. */
function notesBlocks({ job }: JobReportModel): DocumentBlock[] {
  const notes = job.attempts.flatMap(({ attempt, findings }) =>
    findings.notes
      .filter(({ severity }) => severity === "warning")
      .map(({ text }) => `Attempt ${attempt.number}: ${text}`),
  );
  if (notes.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "Notes" },
    { kind: "list", items: notes.map(oneLine) },
  ];
}
