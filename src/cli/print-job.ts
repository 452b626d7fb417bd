// cli: a job → what a terminal shows of it: the device, everything that was said in its order, where it stands, the
// seal.
import { formatPowerSize, formatProbability, formatSignificant } from "../core/format-quantity.js";
import type { Evidence, JobSuspect } from "../evidence/evidence-schema.js";
import type { Entry } from "../job/entry-schema.js";
import type { Job, JobAttempt } from "../job/job.js";
import { BEFORE_MEASUREMENT, STATE_WORDS } from "../report/job-suspects.js";
import { sincePowerOn } from "../report/job-words.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { describeEntry } from "./describe-entry.js";
import { printReadings } from "./print-readings.js";
import { textTable } from "./text-table.js";

/** Suspects from this chance on are listed, and so many at most; the report has the rest. */
const LEAST_PROBABILITY = 0.02;
const MOST_SUSPECTS = 8;

/** Print a job for a person, with what its whole evidence comes to. Every string that came from outside is made visible
 *  before it is printed.
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
  else
    lines.push(
      "",
      "Nothing is in it yet. faultglow job attempt DIR adds frames, faultglow job reading DIR a reading.",
    );
  if (evidence !== null) {
    lines.push(
      "",
      styles.bold(visibleText(evidence.verdict)),
      `Next: ${visibleText(evidence.next.sentence)}`,
      ...suspectLines(evidence, job, styles),
      ...printReadings(evidence, styles),
    );
  }
  lines.push("", `Seal: ${job.seal}`);
  return `${lines.join("\n")}\n`;
}

/** Suspects with their probabilities, and by how much the readings weigh for each: a ratio of likelihoods that
 *  `--without-readings` leaves out.
 */
function suspectLines(
  { suspects, options, readings, pointsToPart }: Evidence,
  job: Job,
  styles: Styles,
): string[] {
  // Chances from before any measurement, under a verdict that names no part, would be read as an answer.
  const least = pointsToPart === false ? Infinity : LEAST_PROBABILITY;
  const listed = suspects
    .filter(({ probability, changed, state }) => {
      return state !== "normallyWarm" && (probability >= least || changed.length > 0);
    })
    .slice(0, MOST_SUSPECTS);
  const isWeighed = listed.some(({ readingRatio }) => (readingRatio ?? null) !== null);
  const counted: string[] = [];
  // It explains a column, which is not there where no reading could be weighed.
  if (isWeighed) {
    counted.push(
      "Readings: how many times as likely the readings are if that part is at fault as if a part on none of the nets read is; --without-readings leaves them out.",
    );
  } else if (readings.length > 0 && !options.useReadings) {
    counted.push("Readings are not counted here (--without-readings).");
  }
  if (listed.length === 0) return counted;
  if (pointsToPart === false) counted.unshift(BEFORE_MEASUREMENT);
  const split = job.boards.length > 1;
  const [head, ...rows] = textTable(
    [
      { title: "Part" },
      { title: "At fault", right: true },
      { title: "Still", right: true },
      { title: "Readings", right: true },
      { title: "State" },
    ],
    listed.map((suspect) => [
      visibleText(placeOf(suspect, split)),
      formatProbability(suspect.probability),
      formatProbability(suspect.stillFaulty),
      (suspect.readingRatio ?? null) === null ? "" : `× ${formatSignificant(suspect.readingRatio!, 2)}`,
      // What was done comes first where nothing has looked at it since.
      (suspect.state === "unseen"
        ? [...suspect.changed, STATE_WORDS.unseen]
        : [STATE_WORDS[suspect.state], ...suspect.changed]
      ).join(", "),
    ]),
  );
  return ["", styles.dim(head ?? ""), ...rows, ...counted];
}

function placeOf({ ref, side, board }: JobSuspect, split: boolean): string {
  return split && board !== null ? `${ref} (${side}, ${board})` : `${ref} (${side})`;
}

function wordsOf(entry: Entry, job: Job): string {
  const attempt = job.attempts.find(({ seq }) => seq === entry.seq);
  return attempt === undefined ? describeEntry(entry, job.entries) : attemptText(attempt);
}

function attemptText({ attempt, findings }: JobAttempt): string {
  const { volts, amps, limitA, rail, connected, remark, healthy } = attempt.conditions;
  const sides = attempt.views.flatMap(({ view }) => (view === null ? [] : [view.side]));
  const fed = [
    rail,
    volts === null ? null : `${volts} V`,
    amps === null ? null : `${amps} A`,
    limitA === null ? null : `limit ${limitA} A`,
    sincePowerOn({ attempt }),
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
