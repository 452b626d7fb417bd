// store: a job folder → the job in memory, with what its hashes vouch for.
import type { BoardMap, View } from "../board/board-schema.js";
import { parseBoardMap } from "../board/parse-board-map.js";
import { parseView } from "../board/parse-view.js";
import { type Note, note } from "../core/notes.js";
import { findingsSchema } from "../findings/findings-schema.js";
import { attemptSchema } from "../job/attempt-schema.js";
import type { Entry } from "../job/entry-schema.js";
import type { Job, JobAttempt, Told } from "../job/job.js";
import { ATTEMPT_KIND, FINDINGS_KIND } from "../job/job-kinds.js";
import type { Journal } from "../job/parse-journal.js";
import { parseKind } from "../job/parse-kind.js";
import { replayJournal, withdrawnSeqs } from "../job/replay-journal.js";
import { attemptFile, attemptName, boardName, viewName } from "./job-paths.js";
import { readJobFile } from "./read-job-file.js";
import { type JobText, readJournal } from "./read-journal.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";

/** A job as it was opened. */
export interface OpenJob extends Job {
  /** What is worth saying of the folder. */
  readonly notes: readonly Note[];
}

/** Open a job: reads all its small files, compares their hashes and checks their form. Frames, pictures and reports are
 *  left alone: `checkJob` looks at these.
 *  Nothing is written, so a job that may only be read can be opened, and while another process writes to it.
 *  @throws ToolError E_JOB_NONE, E_JOB_JOURNAL, E_JOB_HASH, E_JOB_KIND, E_JOB_VALUE, and those of map and view.
 */
export async function openJob(folder: string, options: Partial<StoreOptions> = {}): Promise<OpenJob> {
  const { storage } = { ...STORE_DEFAULTS, ...options };
  return wordErrors(folder, async () => openText(folder, await readJournal(folder, storage), storage));
}

/** The same, from a journal that has been read already. */
export async function openText(
  folder: string,
  { header, journal }: JobText,
  storage: Storage,
): Promise<OpenJob> {
  const { entries, seal } = journal;
  const withdrawn = withdrawnSeqs(entries);
  const counted = entries.filter(({ seq }) => !withdrawn.has(seq));
  const boards = new Map<string, BoardMap>();
  const attempts = new Map<number, Omit<JobAttempt, keyof Told>>();
  for (const { said } of counted) {
    if (said.type === "board") boards.set(said.sha256, await readBoard(folder, said.sha256, storage));
    if (said.type === "attempt")
      attempts.set(said.number, await readAttempt(folder, said.number, said.sha256, storage));
  }
  const job = replayJournal(
    header,
    entries,
    { board: (sha256) => boards.get(sha256)!, attempt: (number) => attempts.get(number)! },
    seal,
  );
  return { ...job, notes: tornNotes(folder, journal) };
}

/** Read attempt.json, the findings, the map and the views that belong to it. */
export async function readAttempt(
  folder: string,
  number: number,
  sha256: string,
  storage: Storage,
): Promise<Omit<JobAttempt, keyof Told>> {
  const file = attemptFile(number);
  const text = decode(await readJobFile(folder, file, sha256, storage));
  const attempt = parseKind(text, ATTEMPT_KIND, attemptSchema, file);
  const name = `${attemptName(number)}/findings.json`;
  const findings = decode(await readJobFile(folder, name, attempt.files["findings.json"] ?? "", storage));
  const views: (View | null)[] = [];
  for (const { view } of attempt.views) {
    if (view === null) views.push(null);
    else {
      const bytes = await readJobFile(folder, viewName(view.sha256), view.sha256, storage);
      views.push(parseView(parseJson(bytes), view.file).view);
    }
  }
  return {
    attempt,
    findings: parseKind(findings, FINDINGS_KIND, findingsSchema, name),
    board: attempt.board === null ? null : await readBoard(folder, attempt.board.sha256, storage),
    views,
  };
}

async function readBoard(folder: string, sha256: string, storage: Storage): Promise<BoardMap> {
  const name = boardName(sha256);
  return parseBoardMap(parseJson(await readJobFile(folder, name, sha256, storage)), name).board;
}

/** The bytes are those that were read when they were taken in, so they are JSON. */
function parseJson(bytes: Uint8Array): unknown {
  return JSON.parse(decode(bytes));
}

/** Takes a byte order mark away. */
function decode(bytes: Uint8Array): string {
  return new TextDecoder().decode(bytes);
}

function tornNotes(folder: string, { torn, entries }: Journal): Note[] {
  if (torn === null) return [];
  return [
    note(
      "N_JOB_TORN",
      `${folder}: line ${entries.length + 1} of the journal was cut short while it was written and does not count; ` +
        "with the next line that is added it is put aside.",
    ),
  ];
}

/** Number that the next attempt gets: withdrawn ones keep theirs. */
export function nextAttemptNumber(entries: readonly Entry[]): number {
  const numbers = entries.flatMap(({ said }) => (said.type === "attempt" ? [said.number] : []));
  return Math.max(0, ...numbers) + 1;
}
