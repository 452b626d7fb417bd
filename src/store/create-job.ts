// store: what is known of a device → a new job folder.
import { randomBytes } from "node:crypto";
import { join } from "node:path";
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import type { Said } from "../job/entry-schema.js";
import { type JobHeader, jobSchema } from "../job/job-schema.js";
import { momentOf } from "../job/moment-of.js";
import { type ChosenBoard, readNewBoard } from "./choose-board.js";
import { ASIDE, boardName, JOB_FILE, JOURNAL_FILE, LOCK_FILE, pathIn, STAGE, sha256Of } from "./job-paths.js";
import { lockJob } from "./lock-job.js";
import { type OpenJob, openJob } from "./open-job.js";
import { sweepStages, withStage } from "./stage.js";
import type { Storage } from "./storage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";
import { writeJournal } from "./write-journal.js";

/** What a job begins with. */
export interface JobRequest {
  readonly device: string;
  readonly complaint?: string | undefined;
  readonly symptom?: JobHeader["symptom"] | undefined;
  readonly remark?: string | undefined;
  /** Files of board maps; two for a device whose board is split. */
  readonly boards?: readonly string[] | undefined;
  /** ISO 8601 with offset; now, if absent. */
  readonly at?: string | undefined;
}

/** Make a job. The folder is created; it may exist if it is empty. job.json is the last file to get its name: until
 *  then there is no job.
 *  @throws ToolError E_JOB_EXISTS if the folder holds anything, E_JOB_BOARD if two maps have one name, E_JOB_LOCKED,
 *    E_JOB_WRITE, and those of the maps.
 */
export async function createJob(
  folder: string,
  request: JobRequest,
  options: Partial<StoreOptions> = {},
): Promise<OpenJob & { readonly notes: readonly Note[] }> {
  const o = { ...STORE_DEFAULTS, ...options };
  const boards: ChosenBoard[] = [];
  for (const file of request.boards ?? []) boards.push(await readNewBoard(file));
  refuseSameNames(boards);
  const header = headerOf(request, o);
  return wordErrors(folder, async () => {
    await o.storage.makeFolder(folder);
    await refuseFull(folder, o.storage);
    await lockJob(folder, o, async () => {
      await sweepStages(folder, o.storage);
      await refuseFull(folder, o.storage);
      await withStage(folder, o, (stage) => writeAll(folder, stage, header, boards, o.storage));
    });
    const job = await openJob(folder, o);
    return { ...job, notes: [...boards.flatMap((board) => board.notes), ...job.notes] };
  });
}

async function writeAll(
  folder: string,
  stage: string,
  header: JobHeader,
  boards: readonly ChosenBoard[],
  storage: Storage,
): Promise<void> {
  const head = new TextEncoder().encode(`${JSON.stringify(header, null, 2)}\n`);
  await putAside(folder, storage);
  await storage.create(join(stage, JOB_FILE), head);
  await storage.makeFolder(join(stage, "boards"));
  await storage.makeFolder(join(folder, "boards"));
  const said: Said[] = [];
  for (const { name, file, sha256, bytes } of boards) {
    await storage.create(pathIn(stage, boardName(sha256)), bytes);
    await storage.rename(pathIn(stage, boardName(sha256)), pathIn(folder, boardName(sha256)));
    said.push({ type: "board", name, file, sha256 });
  }
  await storage.create(join(stage, JOURNAL_FILE), new Uint8Array());
  const empty = { entries: [], seal: sha256Of(head), length: 0 };
  await writeJournal(stage, empty, said, header.createdAt, storage);
  await storage.rename(join(stage, JOURNAL_FILE), join(folder, JOURNAL_FILE));
  await storage.rename(join(stage, JOB_FILE), join(folder, JOB_FILE));
}

/** Names that a making of a job that was cut short may leave. */
const LEFT_OVER: readonly string[] = ["boards", JOURNAL_FILE, LOCK_FILE, ASIDE];

async function refuseFull(folder: string, storage: Storage): Promise<void> {
  const names = (await storage.list(folder)).map(({ name }) => name);
  if (names.includes(JOB_FILE)) {
    throw new ToolError("E_JOB_EXISTS", {
      problem: "expected a new folder, but this one holds a job already",
      fix: "Give another folder, or add to the job that is there",
      place: { file: folder },
    });
  }
  const foreign = names.filter(
    (name) => !LEFT_OVER.includes(name) && !name.startsWith(STAGE) && !name.startsWith(`${LOCK_FILE}.`),
  );
  if (foreign.length === 0) return;
  throw new ToolError("E_JOB_EXISTS", {
    problem: `expected a new or an empty folder, but this one holds ${foreign.length === 1 ? "something" : `${foreign.length} things`}, such as "${foreign[0]}"`,
    fix: "Give a folder that does not exist yet",
    place: { file: folder },
  });
}

/** A journal without a job is left by a making that was cut short, or by the loss of job.json: it is not written
 *  over. */
async function putAside(folder: string, storage: Storage): Promise<void> {
  const names = (await storage.list(folder)).map(({ name }) => name);
  if (!names.includes(JOURNAL_FILE)) return;
  await storage.makeFolder(join(folder, ASIDE));
  const aside = join(folder, ASIDE, `journal-${randomBytes(4).toString("hex")}.jsonl`);
  await storage.rename(join(folder, JOURNAL_FILE), aside);
}

function headerOf(request: JobRequest, { now, toolVersion }: StoreOptions): JobHeader {
  return jobSchema.parse({
    kind: "faultglow/job",
    version: 1,
    id: randomBytes(8).toString("hex"),
    createdAt: request.at ?? momentOf(now()),
    device: request.device,
    complaint: request.complaint ?? null,
    symptom: request.symptom ?? null,
    remark: request.remark ?? null,
    tool: { name: "faultglow", version: toolVersion },
  });
}

function refuseSameNames(boards: readonly ChosenBoard[]): void {
  const names = boards.map((board) => board.name);
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new ToolError("E_JOB_BOARD", {
    problem: `two of the board maps have the name "${twice}"`,
    fix: 'Give each map a "name" of its own, and each board of the device one map',
  });
}
