// cli: a line of the journal → what it says, in words.
import type { Entry } from "../job/entry-schema.js";
import { UNIT_OF } from "../readings/parse-reading.js";
import type { Reading, Reference } from "../readings/reading-schema.js";
import { actionText } from "../report/job-words.js";

/** Say what a line says, in one line. Not yet safe to print.
 *  @param lines those of the journal: with them a withdrawal says what it took back.
 */
export function describeEntry({ said }: Entry, lines: readonly Entry[] = []): string {
  switch (said.type) {
    case "board":
      return `board map: ${said.name} (${said.file})`;
    case "attempt":
      return `attempt ${said.number}`;
    case "reading":
      return `${said.reading.measure} at ${describeReading(said.reading)}`;
    case "reference":
      return `reference, ${said.reference.measure} at ${describeReading(said.reference)}`;
    case "action":
      return `${actionText(said.action)}${after(said.action.remark)}`;
    case "remark":
      return said.text;
    case "withdrawal":
      return `line ${said.seq} withdrawn${takenBack(lines, said.seq)}. Reason: ${said.reason}`;
  }
}

function takenBack(lines: readonly Entry[], seq: number): string {
  const line = lines.find((one) => one.seq === seq);
  return line === undefined ? "" : `: ${describeEntry(line)}`;
}

/** Say where a reading was taken: `VSYS`, `U7 pin 3`, `U7 pin 3 (VSYS)`. */
function readingPlace({ net, ref, pin, board }: Reading): string {
  const part = ref === undefined ? undefined : `${ref}${pin === undefined ? "" : ` pin ${pin}`}`;
  const place = part === undefined ? (net ?? "") : net === undefined ? part : `${part} (${net})`;
  return board === undefined ? place : `${place} of ${board}`;
}

function describeReading(reading: Reading | Reference): string {
  const { value, measure, raw, remark } = reading;
  const upTo = "upTo" in reading && reading.upTo !== undefined ? ` to ${reading.upTo}` : "";
  const shown = value === null ? "over range" : `${value}${upTo} ${UNIT_OF[measure]}`;
  return `${readingPlace(reading)}: ${shown} ("${raw}")${after(remark)}`;
}

function after(remark: string | undefined): string {
  return remark === undefined ? "" : `. ${remark}`;
}
