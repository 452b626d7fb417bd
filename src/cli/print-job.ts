// cli: a job → what a terminal shows of it: the device, everything that was said in its order, where it stands, the seal.
import { formatPowerSize, formatProbability } from "../core/format-quantity.js";
import type { Evidence } from "../evidence/evidence-schema.js";
import type { Entry } from "../job/entry-schema.js";
import type { Job, JobAttempt } from "../job/job.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { describeEntry } from "./describe-entry.js";
import { textTable } from "./text-table.js";

/** Print a job for a person, with what its whole evidence comes to. Every string that came from outside is made visible before it is printed.
 *  @returns text with a last line end.
 */
export function printJob(job: Job, evidence: Evidence | null, styles: Styles): string {
  const { header } = job;
  const lines = [
    styles.bold(visibleText(header.device)),
    `Job ${header.id}, begun ${shortMoment(header.createdAt)}`,
  ];
  if (header.complaint !== null) lines.push(`Complaint: ${visibleText(header.complaint)}`);
  const symptom = symptomText(job);
  if (symptom !== "") lines.push(`Symptom: ${visibleText(symptom)}`);
  if (header.remark !== null) lines.push(`Remark: ${visibleText(header.remark)}`);
  const [head, ...rows] = textTable(
    [{ title: "Line", right: true }, { title: "When" }, { title: "What" }],
    job.entries.map((entry) => [
      String(entry.seq),
      shortMoment(entry.at),
      visibleText(wordsOf(entry, job)) + (job.withdrawn.has(entry.seq) ? " (withdrawn)" : ""),
    ]),
  );
  if (rows.length > 0) lines.push("", styles.dim(head ?? ""), ...rows);
  if (evidence !== null) {
    lines.push(
      "",
      styles.bold(visibleText(evidence.verdict)),
      `Next: ${visibleText(evidence.next.sentence)}`,
    );
  }
  lines.push("", `Seal: ${job.seal}`);
  return `${lines.join("\n")}\n`;
}

function wordsOf(entry: Entry, job: Job): string {
  const attempt = job.attempts.find(({ seq }) => seq === entry.seq);
  return attempt === undefined ? describeEntry(entry) : attemptText(attempt);
}

function attemptText({ attempt, findings }: JobAttempt): string {
  const { volts, amps, limitA, rail, connected, remark, healthy } = attempt.conditions;
  const sides = attempt.views.flatMap(({ view }) => (view === null ? [] : [view.side]));
  const fed = [
    rail,
    volts === null ? null : `${volts} V`,
    amps === null ? null : `${amps} A`,
    limitA === null ? null : `limit ${limitA} A`,
    connected.length === 0 ? null : `connected: ${connected.join(", ")}`,
  ].filter((one) => one !== null);
  const what = [attempt.board?.name, [...new Set(sides)].join(" and "), ...fed].filter((one) => one);
  const first = findings.suspects.find(({ normallyWarm }) => !normallyWarm);
  const power = first === undefined || first.powerW === null ? "" : `, ${formatPowerSize(first.powerW)}`;
  const found =
    first === undefined ? findings.verdict : `${first.ref} ${formatProbability(first.probability)}${power}`;
  return (
    `attempt ${attempt.number}${healthy ? " of a good board" : ""}` +
    `${what.length === 0 ? "" : ` (${what.join("; ")})`}: ${found}${remark === null ? "" : `. ${remark}`}`
  );
}

function symptomText({ header: { symptom } }: Job): string {
  if (symptom === null) return "";
  const { text, restartsAfterS, connected, drawsA } = symptom;
  return [
    text,
    restartsAfterS === undefined ? undefined : `restarts after ${restartsAfterS} s`,
    drawsA === undefined ? undefined : `draws ${drawsA} A`,
    connected === undefined ? undefined : `connected: ${connected.join(", ")}`,
  ]
    .filter((one) => one !== undefined)
    .join("; ");
}

/** To the minute, as the clock at the bench had it. */
function shortMoment(moment: string): string {
  return moment.slice(0, 16).replace("T", " ");
}
