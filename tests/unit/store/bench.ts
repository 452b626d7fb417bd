// A bench for the tests of the job folder: a folder with frames, a map and a view, and a clock that can be set.
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { createJob, type JobRequest } from "../../../src/store/create-job.js";
import type { StoreOptions } from "../../../src/store/store-options.js";
import { makeBoard, makeFrame, makeView, writeCsv } from "../../cli/make-frames.js";

export interface Bench {
  readonly folder: string;
  /** Where the job is to be; it does not exist yet. */
  readonly job: string;
  readonly file: (name: string) => string;
  /** Everything that an attempt on the map's board needs. */
  readonly frames: { baseline: string[]; powered: string[]; view: string };
  readonly remove: () => Promise<void>;
}

export const CLOCK = {
  now: () => new Date("2031-03-01T08:05:00Z"),
  toolVersion: "0.0.1",
} satisfies Partial<StoreOptions>;
export const DEVICE: JobRequest = { device: "sluice gauge K3", at: "2031-03-01T09:05:00+01:00" };

export async function makeBench(): Promise<Bench> {
  const folder = await mkdtemp(join(tmpdir(), "faultglow-store-"));
  const file = (name: string): string => join(folder, name);
  await writeCsv(file("off.csv"), makeFrame(11, 0));
  await writeCsv(file("on.csv"), makeFrame(12, 2.4));
  await writeFile(file("board.json"), JSON.stringify(makeBoard()));
  await writeFile(file("view.json"), JSON.stringify(makeView()));
  return {
    folder,
    job: file("job"),
    file,
    frames: { baseline: [file("off.csv")], powered: [file("on.csv")], view: file("view.json") },
    remove: () => rm(folder, { recursive: true }),
  };
}

/** Make the job of a bench, with some of its boards. */
export function beginJob(bench: Bench, boards: readonly string[] = ["board.json"]) {
  return createJob(bench.job, { ...DEVICE, boards: boards.map(bench.file) }, CLOCK);
}

/** Write the board of the bench under another name, with one more part. */
export async function writeOtherBoard(bench: Bench, name: string, file: string): Promise<void> {
  const board = makeBoard() as { regions: object[] };
  const polygon = [
    [20, 15],
    [22, 15],
    [22, 16],
  ];
  const regions = [...board.regions, { ref: "R9", side: "top", polygon }];
  await writeFile(bench.file(file), JSON.stringify({ ...board, name, regions }));
}

/** Change one file. */
export async function change(path: string, edit: (text: string) => string): Promise<void> {
  const before = await readFile(path, "utf8");
  const after = edit(before);
  if (after === before) throw new Error(`the edit changes nothing in ${path}`);
  await writeFile(path, after);
}
