// job: bytes of journal.jsonl → its lines as a chain whose past is unchanged, and what was cut off at its end.
import { ToolError } from "../core/errors.js";
import { type Entry, entrySchema } from "./entry-schema.js";
import { ENTRY_KIND } from "./job-kinds.js";
import { parseKind } from "./parse-kind.js";

/** A journal as it was read. */
export interface Journal {
  readonly entries: readonly Entry[];
  /** Hash of the last line; `first` where there is none. */
  readonly seal: string;
  /** Bytes of the whole lines. */
  readonly length: number;
  /** What stands after the last line end: a line whose writing was cut short. Null if there is nothing. */
  readonly torn: Uint8Array | null;
}

/** How the journal is hashed and called. */
export interface JournalOptions {
  /** SHA-256 of a text's UTF-8 bytes, hex. */
  readonly sha256: (text: string) => string;
  /** For errors. */
  readonly file: string;
}

const LINE_END = 0x0a;

/** Parse a journal. A line counts once its line end is written, so that a torn one can only be the last.
 *  @param first what the first line has to carry as `previous`: the hash of job.json.
 *  @throws ToolError E_JOB_JOURNAL if a line is not what was written, lines are missing or the past was changed;
 *    E_JOB_KIND or E_JOB_VALUE if a line says what this version does not know.
 */
export function parseJournal(bytes: Uint8Array, first: string, { sha256, file }: JournalOptions): Journal {
  const length = bytes.lastIndexOf(LINE_END) + 1;
  const torn = length < bytes.length ? bytes.slice(length) : null;
  const lines = decode(bytes.subarray(0, length), file).split("\n").slice(0, -1);
  const entries: Entry[] = [];
  let seal = first;
  for (const [i, text] of lines.entries()) {
    const entry = parseLine(text, file, i + 1);
    if (entry.seq !== i + 1) {
      throw broken(`expected line number ${i + 1}, found number ${entry.seq}`, file, i + 1);
    }
    if (entry.previous !== seal) {
      const what = i === 0 ? "job.json" : `line ${i}`;
      throw broken(`${what} is not what it was when this line was written`, file, i + 1);
    }
    entries.push(entry);
    seal = sha256(text);
  }
  return { entries, seal, length, torn };
}

/** Word a line of the journal, without its line end. */
export function entryText(entry: Entry): string {
  return JSON.stringify(entrySchema.parse(entry));
}

function parseLine(text: string, file: string, line: number): Entry {
  try {
    return parseKind(text, ENTRY_KIND, entrySchema, file, line);
  } catch (error) {
    if (!(error instanceof ToolError) || error.code !== "E_JSON_SYNTAX") throw error;
    throw broken("the line is damaged: it is no JSON", file, line);
  }
}

function decode(bytes: Uint8Array, file: string): string {
  try {
    return new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw broken("the journal is damaged: it is no text in UTF-8", file);
  }
}

function broken(problem: string, file: string, line?: number): ToolError {
  return new ToolError("E_JOB_JOURNAL", {
    problem,
    fix: "Take the job from a copy or a pack: lines of a journal are never changed after they were written",
    place: { file, line },
  });
}
