// report: a job → what it rests on: every frame with its hash, maps, views, versions and the seal.
import type { KeptView } from "../job/attempt-schema.js";
import type { JobReportModel } from "./job-report-model.js";
import { momentText } from "./job-words.js";
import type { DocumentBlock, DocumentCell } from "./report-document.js";

/** Hashes of all frames by attempt, and the seal of the journal. */
export function jobProof({ job, tool }: JobReportModel): DocumentBlock[] {
  const maps = job.boards.map(({ name, file, sha256 }): DocumentCell[] => [file, `map of ${name}`, sha256]);
  return [
    { kind: "heading", level: 2, text: "What it rests on" },
    {
      kind: "paragraph",
      text: "Every file is kept in the job's folder under its SHA-256; faultglow job check reads all of them again and computes every finding anew.",
    },
    ...(job.attempts.every(({ attempt }) => attempt.tool.version === tool.version)
      ? []
      : [
          {
            kind: "paragraph",
            text: `The findings are those of the versions named below; the pictures of the boards were computed again from the kept frames with version ${tool.version}.`,
          } as const,
        ]),
    ...(maps.length === 0 ? [] : [hashTable("Board maps", maps)]),
    ...job.attempts.flatMap(({ attempt }): DocumentBlock[] => [
      {
        kind: "heading",
        level: 3,
        text: `Attempt ${attempt.number}, ${momentText(attempt.at)}, ${attempt.tool.name} ${attempt.tool.version}`,
      },
      hashTable(
        `Files of attempt ${attempt.number}`,
        attempt.views.flatMap((view, i) =>
          viewFiles(view, attempt.views.length > 1 ? ` (view ${i + 1})` : ""),
        ),
      ),
    ]),
    {
      kind: "facts",
      label: "Seal",
      rows: [
        ["Job", job.header.id],
        ["Seal of the journal", job.seal],
        ...(job.withdrawn.size === 0
          ? []
          : [
              [
                "Withdrawn lines",
                `${[...job.withdrawn].sort((a, b) => a - b).join(", ")} (kept in the journal, not counted here)`,
              ] as const,
            ]),
      ],
    },
  ];
}

function hashTable(label: string, rows: readonly (readonly DocumentCell[])[]): DocumentBlock {
  return {
    kind: "table",
    label,
    columns: [{ title: "File", as: "words" }, { title: "Role" }, { title: "SHA-256", as: "hash" }],
    rows,
  };
}

function viewFiles({ baseline, powered, view }: KeptView, of: string): DocumentCell[][] {
  return [
    ...baseline.map(({ name, sha256 }): DocumentCell[] => [name, `baseline${of}`, sha256]),
    ...powered.map(({ name, sha256 }): DocumentCell[] => [name, `powered${of}`, sha256]),
    ...(view === null ? [] : [[view.file, `view${of}`, view.sha256] as DocumentCell[]]),
  ];
}

/** Number of frames that a job keeps. */
export function frameCount({ job }: Pick<JobReportModel, "job">): number {
  return job.attempts
    .flatMap(({ attempt }) => attempt.views)
    .reduce((sum, { baseline, powered }) => sum + baseline.length + powered.length, 0);
}
