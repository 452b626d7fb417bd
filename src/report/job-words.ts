// report: the pieces of a job → words that all its reports share.

import { formatPower, formatSeconds, formatSignificant } from "../core/format-quantity.js";
import { capitalised } from "../core/sentence-case.js";
import type { Action, Deed } from "../job/entry-schema.js";
import type { Job, JobAttempt } from "../job/job.js";
import type { Symptom } from "../job/job-schema.js";
import type { ReadingChange } from "../readings/before-after.js";
import { type ReadingClass, sayValue } from "../readings/classify-reading.js";
import type { ReadingPlace } from "../readings/classify-readings.js";
import { UNIT_OF } from "../readings/parse-reading.js";
import type { Measure, Reading } from "../readings/reading-schema.js";
import { fitText } from "./fit-text.js";

/** Bring a text onto one line: breaks and tabs that someone typed are blanks. */
export function oneLine(text: string): string {
  return text.replace(/[\t\n\r\u0085\u2028\u2029]+/g, " ").trim();
}

/** The last line of every page: device, job, tool. A long name is shortened here; on the first page it stands whole. */
export function footText(
  device: string,
  id: string,
  tool: { readonly name: string; readonly version: string },
): string {
  return `${fitText(oneLine(device), FOOT_WIDTH, 1)} · job ${id} · made with ${tool.name} ${tool.version}`;
}

/** Ems that a name may take in the last line. */
const FOOT_WIDTH = 32;

/** A moment as it was noted, to the minute, with its offset: `2026-03-09 14:05 +01:00`. */
export function momentText(at: string): string {
  const match = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)[^Z+-]*(Z|[+-]\d\d:?\d\d)$/.exec(at);
  if (match === null) return at;
  const [, day = "", time = "", offset = ""] = match;
  return `${day} ${time} ${offset === "Z" ? "UTC" : offset.replace("-", "−")}`;
}

/** When the last thing was said, as it was noted: the date of a report, which tells nothing later. */
export function lastMoment({ entries, header }: Pick<Job, "entries" | "header">): string {
  return entries.at(-1)?.at ?? header.createdAt;
}

/** What a reading was judged to be. */
export const CLASS_WORDS: Readonly<Record<ReadingClass, string>> = Object.freeze({
  short: "short to ground",
  low: "low",
  asExpected: "as expected",
  high: "high",
  open: "open",
  drifting: "drifting",
  unjudged: "not judged",
});

/** What became of a reading over a change of the board. */
export const READING_CHANGE_WORDS: Readonly<Record<ReadingChange, string>> = Object.freeze({
  cleared: "cleared",
  worse: "worse",
  same: "the same",
  moved: "moved",
  unknown: "not known",
});

/** What was done to a part or a board, in a word or two; what is done most often comes first. */
export const DEED_WORDS: Readonly<Record<Deed, string>> = Object.freeze({
  replaced: "replaced",
  lifted: "lifted",
  reflowed: "reflowed",
  cleaned: "cleaned",
  "shield-off": "shield taken off",
  "shield-on": "shield put on",
  "boards-split": "boards split",
  "boards-joined": "boards joined",
  other: "other work",
});

/** A board by its name, which is often said to be one in it already: `board upper`, but `radio board`. */
function boardWords(name: string): string {
  return /\bboard\b/i.test(name) ? name : `board ${name}`;
}

/** What was done, and to what: `C12 replaced`. */
export function actionText({ did, ref, board }: Action): string {
  const what = DEED_WORDS[did];
  const on = board === undefined ? "" : ` (${boardWords(board)})`;
  if (ref === undefined) return `${capitalised(what)}${on}`;
  return `${ref} ${did === "other" ? "worked on" : what}${on}`;
}

/** Volts and amps of an attempt, with the rail: `0.900 V × 0.254 A = 0.229 W into VSYS`; "" where nothing was noted. */
export function powerText({ attempt }: Pick<JobAttempt, "attempt">): string {
  const { volts, amps, limitA, rail } = attempt.conditions;
  const into = rail === null ? "" : ` into ${rail}`;
  const limit = limitA === null ? "" : `, limited to ${formatSignificant(limitA, 3)} A`;
  if (volts !== null && amps !== null) {
    return `${formatSignificant(volts, 3)} V × ${formatSignificant(amps, 3)} A = ${formatPower(volts * amps, null).text}${into}${limit}`;
  }
  if (volts !== null) return `${formatSignificant(volts, 3)} V${into}${limit}`;
  if (amps !== null) return `${formatSignificant(amps, 3)} A${into}${limit}`;
  if (rail !== null) return `Power${into}${limit}`;
  return limitA === null ? "" : `Limited to ${formatSignificant(limitA, 3)} A`;
}

/** How long power had been on when the frames were taken: `20 s after power-on`; null where nothing was said. */
export function sincePowerOn({ attempt }: Pick<JobAttempt, "attempt">): string | null {
  const { afterS } = attempt.options;
  return afterS === undefined ? null : `${formatSeconds(afterS)} after power-on`;
}

/** Watts that were fed in; null where they are not known. */
export function fedWatts({ attempt, findings }: Pick<JobAttempt, "attempt" | "findings">): number | null {
  const { volts, amps } = attempt.conditions;
  return findings.energy?.fedW ?? (volts !== null && amps !== null ? volts * amps : null);
}

/** A symptom in one sentence or two; null where none was noted. */
export function symptomText(symptom: Symptom | null): string | null {
  if (symptom === null) return null;
  const { text, restartsAfterS, connected, drawsA } = symptom;
  const parts = [
    text === undefined ? "" : oneLine(text),
    restartsAfterS === undefined ? "" : `restarts ${restartsAfterS} s after power-on`,
    drawsA === undefined ? "" : `draws ${drawsA} A`,
    connected === undefined || connected.length === 0
      ? ""
      : `with ${connected.map(oneLine).join(", ")} connected`,
  ].filter((part) => part !== "");
  return parts.length === 0 ? null : parts.join("; ");
}

/** Where a meter was held: `VSYS, C7 pin 1 (upper)`. */
export function placeText({ board, net, ref, pin }: Partial<ReadingPlace> | Reading): string {
  const part = !ref ? "" : pin ? `${ref} pin ${pin}` : ref;
  const places = [net ?? "", part].filter((place) => place !== "").join(", ");
  return oneLine(board ? `${places} (${board})` : places);
}

/** A reading with its unit, `OL` where the meter showed over-range. */
export function readingText(measure: Measure, value: number | null, overRange: boolean): string {
  if (overRange) return "OL";
  if (value === null) return "–";
  // As a meter shows it: a short is 0.003 V, not 0.00300 V.
  if (UNIT_OF[measure] !== "V") return sayValue(value, measure);
  const text = Math.abs(value) < 10 ? value.toFixed(3).replace("-", "−") : formatSignificant(value, 3);
  return `${text} V`;
}

/** How sure, in words for whoever doesn't want numbers. */
export function sureness(probability: number): string {
  if (probability >= 0.95) return "almost certainly";
  if (probability >= 0.8) return "very probably";
  if (probability >= 0.6) return "probably";
  return "possibly";
}
