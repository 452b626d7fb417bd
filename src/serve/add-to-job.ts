// serve: frames that were dropped, or the sample frames → attempts of a job, with their pictures kept.
import { readdir } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import * as z from "zod";
import { readJsonFile } from "../read/read-json-file.js";
import { type AddedAttempt, type AttemptRequest, addAttempt, analyseAhead } from "../store/add-attempt.js";
import { appendSaid, type PlainSaid } from "../store/append-said.js";
import { SCRATCH } from "../store/scratch-storage.js";
import { encodeView } from "./attempt-pictures.js";
import { keepPictures, picturesFile } from "./kept-pictures.js";
import { WORK_HASHES, WORK_MEMO, WORK_SHELF } from "./work-shelf.js";
import type { DoWork, WorkProgress } from "./works.js";

interface Options {
  readonly toolVersion: string;
  readonly say: (progress: WorkProgress) => void;
}

/** What this process has read and analysed. */
const KEPT = Object.freeze({ shelf: WORK_SHELF, hashes: WORK_HASHES, memo: WORK_MEMO });

/** Add an attempt. @throws ToolError those of `addAttempt`. */
export const addDropped: DoWork<"attempt"> = async ({ folder, request }, options) => {
  try {
    return { number: (await addOne(folder, request, options)).attempt.attempt.number };
  } finally {
    WORK_SHELF.clear();
    WORK_HASHES.clear();
    WORK_MEMO.clear();
  }
};

/** Analyse frames ahead of the attempt that is made of them. @throws ToolError those of `analyseAhead`. */
export const analyseDropped: DoWork<"ahead"> = async ({ folder, request }, { toolVersion }) => {
  // What is made ready for it is removed again.
  await analyseAhead(folder, request, { toolVersion, ...KEPT, storage: SCRATCH });
  return null;
};

async function addOne(
  folder: string,
  request: AttemptRequest,
  { toolVersion, say }: Options,
): Promise<AddedAttempt> {
  say({ text: "Reading frames", done: 0, total: null });
  const added = await addAttempt(folder, request, {
    toolVersion,
    ...KEPT,
    onFile: (done, total) =>
      say(
        done === total
          ? { text: "Looking for heat", done: 0, total: null }
          : { text: "Reading frames", done, total },
      ),
  });
  const { seq, attempt } = added.attempt;
  const said = added.job.entries[seq - 1]?.said;
  if (said?.type === "attempt") {
    for (const [view] of attempt.views.entries()) {
      const block = encodeView(added.analysis, view);
      if (block !== null) await keepPictures(picturesFile(folder, said.sha256, view, toolVersion), block);
    }
  }
  return added;
}

/** Folder of the sample frames, which come with the tool. */
export const SAMPLE_FOLDER = fileURLToPath(new URL("../../sample-frames", import.meta.url));

/** What attempt.json of a sample says. */
const sampleSchema = z.object({
  title: z.string(),
  story: z.string(),
  baseline: z.array(z.string()).min(1),
  powered: z.array(z.string()).min(1),
  view: z.string(),
  rateHz: z.number().positive().nullable(),
  afterS: z.number().positive().nullable(),
  volts: z.number().positive().nullable(),
  amps: z.number().positive().nullable(),
});

/** What is said before each attempt: the story of the sample, see its attempt.json. */
const SAMPLE_SAID: Readonly<Record<number, readonly PlainSaid[]>> = Object.freeze({
  1: [
    {
      type: "reading",
      reading: { net: "VSYS", measure: "resistance", value: 4.1, overRange: false, raw: "4.1" },
    },
    {
      type: "reference",
      reference: {
        net: "VSYS",
        measure: "resistance",
        value: 46_000,
        overRange: false,
        raw: "46k",
        source: "an invented good meter",
      },
    },
  ],
  3: [{ type: "action", action: { did: "replaced", ref: "C6" } }],
});

/** Add the sample attempts to a job, with what was done between them. */
export const addSample: DoWork<"sample"> = async ({ folder }, { toolVersion, say }) => {
  const names = (await readdir(SAMPLE_FOLDER)).filter((name) => /^attempt-\d+$/.test(name)).sort();
  let number = 0;
  for (const [i, name] of names.entries()) {
    const here = (file: string): string => join(SAMPLE_FOLDER, name, file);
    const sample = sampleSchema.parse((await readJsonFile(here("attempt.json"))).value);
    const said = SAMPLE_SAID[i + 1];
    if (said !== undefined) await appendSaid(folder, said, { toolVersion });
    const { volts, amps, rateHz, afterS, story } = sample;
    const added = await addOne(
      folder,
      {
        baseline: sample.baseline.map(here),
        powered: sample.powered.map(here),
        view: here(sample.view),
        options: { rateHz, ...(afterS === null ? {} : { afterS }) },
        conditions: { volts, amps, rail: "VSYS", remark: story },
      },
      {
        toolVersion,
        say: ({ text }) =>
          say({
            text: `Attempt ${i + 1} of ${names.length}: ${text.toLowerCase()}`,
            done: i,
            total: names.length,
          }),
      },
    );
    number = added.attempt.attempt.number;
  }
  return { number };
};
