// serve: the folder of jobs → the few things that the bench remembers from job to job.
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import * as z from "zod";
import { ToolError } from "../core/errors.js";
import { attemptOptionsSchema } from "../job/attempt-schema.js";
import { writeFileAtomic } from "../report/write-file-atomic.js";
import { refuseNewer } from "./refuse-newer.js";

/** What is remembered. */
const benchSettingsSchema = z.object({
  kind: z.literal("faultglow/bench"),
  version: z.literal(1),
  /** The scale that was last given for a picture. */
  lastScale: attemptOptionsSchema.shape.scale,
});
export type BenchSettings = z.infer<typeof benchSettingsSchema>;

const settingsFile = (folder: string): string => join(folder, ".faultglow-bench.json");

/** Read what is remembered; what can't be read is forgotten. */
export async function readBenchSettings(folder: string): Promise<BenchSettings> {
  const nothing: BenchSettings = { kind: "faultglow/bench", version: 1, lastScale: null };
  const file = settingsFile(folder);
  try {
    return parseBenchSettings(await readFile(file, "utf8"), file) ?? nothing;
  } catch {
    return nothing;
  }
}

/** Read the text of the file; null for what is none of ours, or was torn.
 *  @throws ToolError E_JOB_KIND where a newer version of the tool has written it. */
export function parseBenchSettings(text: string, file: string): BenchSettings | null {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return null;
  }
  refuseNewer(value, "faultglow/bench", file);
  return benchSettingsSchema.safeParse(value).data ?? null;
}

/** Remember a scale. A disk that refuses it loses a convenience, no more. What a newer version of the tool remembers is
 *  left as it is. */
export async function writeLastScale(folder: string, lastScale: BenchSettings["lastScale"]): Promise<void> {
  if (await isNewer(folder)) return;
  const settings: BenchSettings = { kind: "faultglow/bench", version: 1, lastScale };
  await writeFileAtomic(settingsFile(folder), `${JSON.stringify(settings, null, 2)}\n`).catch(() => {});
}

async function isNewer(folder: string): Promise<boolean> {
  const file = settingsFile(folder);
  try {
    parseBenchSettings(await readFile(file, "utf8"), file);
    return false;
  } catch (error) {
    return error instanceof ToolError;
  }
}
