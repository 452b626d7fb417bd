// report: a job → a short report for the customer, without the maths.
import { suspectName } from "../evidence/suspect-name.js";
import type { Action } from "../job/entry-schema.js";
import type { Told } from "../job/job.js";
import { jobBoards, shownSuspects } from "./job-boards.js";
import { frameCount } from "./job-proof.js";
import { judgedReadings } from "./job-readings.js";
import type { JobReportModel } from "./job-report-model.js";
import { actionText, footText, lastMoment, momentText, oneLine, sureness, symptomText } from "./job-words.js";
import type { DocumentBlock, ReportDocument } from "./report-document.js";

/** What someone who uses the device has to mind. Common practice, no source. */
export const CUSTOMER_CAUTIONS: readonly string[] = Object.freeze([
  "If the device grows hot, smells burnt or its battery swells: switch it off, unplug it, don't charge it, keep it away from what burns, and have it looked at.",
  "Don't pierce, bend or open the battery.",
  "The pictures and readings are an aid to a trained person; they don't replace the checks that are made before a device is handed over.",
]);

/** From here on it is said that the fault is mended, and that a part was the cause. */
const MENDED = 0.9;
const NAMED = 0.6;
/** From here on several faults are spoken of. */
const SEVERAL = 0.5;

/** Tell a job on a page or two: what was wrong, what was done, what the pictures show, how it stands. Remarks of the
 *  bench are left out but for those on what was done; probabilities become words.
 */
export function customerDocument(model: JobReportModel): ReportDocument {
  const { job, tool } = model;
  const device = oneLine(job.header.device);
  const boards = jobBoards(model, true);
  const symptom = symptomText(job.header.symptom);
  const done = doneTexts(model);
  const blocks: DocumentBlock[] = [
    { kind: "paragraph", tone: "verdict", text: outcome(model) },
    {
      kind: "facts",
      label: "The job",
      rows: [
        ["Device", device],
        ...(job.header.complaint === null ? [] : [["You told us", oneLine(job.header.complaint)] as const]),
        ...(symptom === null ? [] : [["We saw", symptom] as const]),
        ["Job", `${job.header.id}, begun ${momentText(job.header.createdAt)}`],
      ],
    },
    ...(done.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "What we did" } as const,
          {
            kind: "table",
            label: "What we did",
            columns: [
              { title: "When", as: "whole" },
              { title: "What", as: "words" },
            ],
            rows: done,
          } as const,
        ]),
    ...(boards.length === 0
      ? []
      : [
          { kind: "heading", level: 2, text: "What the thermal pictures show" } as const,
          {
            kind: "paragraph",
            text: "Each picture is the board of your device while it was powered for a moment. Coloured is what grew warm; the darker, the warmer. The same colour means the same warmth in every picture.",
          } as const,
          ...boards,
        ]),
    ...readingsText(model),
    { kind: "heading", level: 2, text: "Please mind" },
    { kind: "list", items: CUSTOMER_CAUTIONS },
    {
      kind: "paragraph",
      tone: "quiet",
      text: `This report rests on ${frameCount(model)} thermal pictures, kept unchanged. Seal of the job: ${job.seal}.`,
    },
  ];
  return {
    title: `Report on your device: ${device}`,
    subtitle: `As of ${momentText(lastMoment(job))}`,
    at: new Date(lastMoment(job)),
    foot: footText(job.header.device, job.header.id, tool),
    blocks,
  };
}

/** How it stands, in one sentence or two. */
function outcome({ job, evidence }: JobReportModel): string {
  if (job.attempts.length === 0) return "No measurement has been made yet.";
  const suspects = evidence?.suspects.filter(({ state }) => state !== "normallyWarm") ?? [];
  const names = suspects.map((suspect) => ({ ...suspect, ref: suspectName(suspect, suspects) }));
  const [first] = names;
  const named = first !== undefined && first.probability >= NAMED ? first : null;
  if (evidence !== null && evidence.mended >= MENDED) {
    const cause = named === null ? "" : ` ${named.ref} was ${sureness(named.probability)} the cause.`;
    if (names.some(({ state }) => state === "unseen")) {
      return `Work has been done on the fault; whether it is gone has not been measured yet.${cause}`;
    }
    return `The heat that showed the fault is gone.${cause}`;
  }
  const open = names.filter(({ stillFaulty }) => stillFaulty >= NAMED).slice(0, countFaults(evidence));
  const several = (evidence?.secondFault ?? 0) > SEVERAL;
  const cured = several ? names.filter(({ state }) => state === "cured") : [];
  const also = cured.map(({ ref, changed }) => ` ${ref} was at fault too and has been ${changed.at(-1)}.`);
  if (named !== null && open.length > 1) {
    const sure = sureness(Math.min(...open.map(({ probability }) => probability)));
    const places = open.map(({ ref }) => `at ${ref}`);
    const list = `${places.slice(0, -1).join(", ")} and ${places.at(-1)}`;
    const count = open.length === 2 ? "two" : "three";
    return `There are ${count} faults, ${sure} ${list}. They are not mended yet.${also.join("")}`;
  }
  if (named !== null) {
    const stands =
      named.state === "unseen"
        ? "Work has been done on it; whether that mended it has not been measured yet."
        : "It is not mended yet.";
    return `The fault is ${sureness(named.probability)} at ${named.ref}. ${stands}${also.join("")}`;
  }
  const heat = job.attempts.some(({ findings }) => shownSuspects(findings).length > 0);
  return heat ? "Unusual heat was found; which part causes it is still open." : "No unusual heat was found.";
}

/** How many faults there are, most probably. */
function countFaults(evidence: JobReportModel["evidence"]): number {
  if ((evidence?.thirdFault ?? 0) > SEVERAL) return 3;
  return (evidence?.secondFault ?? 0) > SEVERAL ? 2 : 1;
}

function doneTexts({ job }: JobReportModel): [string, string][] {
  const attempts = job.attempts.map((attempt): { seq: number; row: [string, string] } => {
    const first = shownSuspects(attempt.findings)[0];
    const what = attempt.attempt.conditions.healthy
      ? "A good board measured for comparison"
      : "Measured with the thermal camera";
    const saw = first === undefined ? "no unusual heat" : `most heat at ${first.ref}`;
    return {
      seq: attempt.seq,
      row: [momentText(attempt.at), `${what} (attempt ${attempt.attempt.number}): ${saw}.`],
    };
  });
  const actions = job.actions.map((action) => ({ seq: action.seq, row: actionRow(action) }));
  return [...attempts, ...actions].sort((a, b) => a.seq - b.seq).map(({ row }) => row);
}

function actionRow(action: Action & Told): [string, string] {
  const remark = action.remark ? ` ${oneLine(action.remark)}` : "";
  return [momentText(action.at), `${actionText(action)}.${remark}`];
}

/** How many places read as they should, by the last reading of each. */
function readingsText(model: JobReportModel): DocumentBlock[] {
  const latest = new Map<string, string>();
  for (const { board, net, ref, pin, measure, class: as } of judgedReadings(model)) {
    latest.set([board, net, ref, pin, measure].join("\n"), as);
  }
  const judged = [...latest.values()].filter((as) => as !== "unjudged" && as !== "drifting");
  if (judged.length === 0) return [];
  const right = judged.filter((as) => as === "asExpected").length;
  return [
    { kind: "heading", level: 2, text: "What the meter shows" },
    {
      kind: "paragraph",
      text:
        judged.length === 1
          ? `The place that was measured and has a value of a good board to compare with reads ${right === 1 ? "as it should" : "otherwise than it should"}.`
          : right === judged.length
            ? `${judged.length === 2 ? "Both" : `All ${judged.length}`} places that were measured and have a value of a good board to compare with read as they should.`
            : `Of ${judged.length} places that were measured and compared with a good board, ${right} read as they should.`,
    },
  ];
}
