// load: the folder of a bench that has ended, and what it had confirmed → what of that is not there, or not sound.
import { createHash } from "node:crypto";
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { checkJob } from "../../src/store/check-job.js";
import { openJob } from "../../src/store/open-job.js";
import type { Confirmed } from "./load-client.js";

/** What came of the check. */
export interface LoadCheck {
  readonly jobs: number;
  readonly attempts: number;
  /** Attempts whose findings are the same, computed again. */
  readonly same: number;
  /** Remarks that were confirmed, and those of them that are there. */
  readonly confirmedLines: number;
  readonly lines: number;
  readonly dropped: number;
  readonly problems: readonly string[];
}

/** Names of problems that a stopped bench may leave: work that was ended on the way, and what was dropped and not
 *  used. */
const MAY_BE: readonly string[] = ["N_JOB_UNFINISHED", "N_JOB_STRAY", "N_JOB_TORN"];

/** Check every job, computing its attempts again, and look for everything that was confirmed.
 *  @param options.wasKilled a job may have been made whose answer nobody heard. */
export async function checkLoadedJobs(
  folder: string,
  confirmed: ReadonlyMap<string, Confirmed>,
  { wasKilled = false }: { readonly wasKilled?: boolean } = {},
): Promise<LoadCheck> {
  const { version } = JSON.parse(await readFile(new URL("../../package.json", import.meta.url), "utf8"));
  const problems: string[] = [];
  let [jobs, attempts, same, confirmedLines, lines, dropped] = [0, 0, 0, 0, 0, 0];
  const seen = new Set<string>();
  for (const entry of await readdir(folder, { withFileTypes: true })) {
    if (!entry.isDirectory() || entry.name.startsWith(".")) continue;
    const path = join(folder, entry.name);
    // A job that was being made is none before its job.json is there.
    if (wasKilled && !(await readdir(path)).includes("job.json")) continue;
    const check = await checkJob(path, { toolVersion: version });
    jobs++;
    if (!check.sound) problems.push(`${entry.name} is not sound`);
    for (const { code, text } of check.problems)
      if (!MAY_BE.includes(code)) problems.push(`${entry.name}: ${code} ${text}`);
    for (const { number, findings } of check.attempts)
      if (findings === "same") same++;
      else problems.push(`${entry.name}: attempt ${number} computed again is ${findings}`);
    attempts += check.attempts.length;
    const opened = await openJob(path, { toolVersion: version });
    const said = confirmed.get(opened.header.id);
    seen.add(opened.header.id);
    if (said === undefined) {
      if (!wasKilled) problems.push(`${entry.name} was never confirmed`);
      continue;
    }
    const remarks = new Set(opened.remarks.map(({ text }) => text));
    confirmedLines += said.remarks.size;
    for (const text of said.remarks) {
      if (remarks.has(text)) lines++;
      else problems.push(`${entry.name}: the remark ${text} is gone`);
    }
    if (opened.attempts.length < said.attempts)
      problems.push(`${entry.name}: of ${said.attempts} attempts ${opened.attempts.length} are there`);
    dropped += await countDropped(path, said.dropped, problems);
  }
  for (const job of confirmed.keys()) if (!seen.has(job)) problems.push(`the job ${job} is gone`);
  return { jobs, attempts, same, confirmedLines, lines, dropped, problems };
}

/** A dropped file lies in the inbox, or in the frames of an attempt that took it; either way under its hash. */
async function countDropped(path: string, wanted: ReadonlySet<string>, problems: string[]): Promise<number> {
  const there = new Map<string, string>();
  for (const part of ["inbox", "frames"])
    for (const name of await readdir(join(path, part)).catch(() => []))
      if (/^[0-9a-f]{64}\.(?!about\.json$)/.test(name)) there.set(name.slice(0, 64), join(path, part, name));
  let whole = 0;
  for (const sha256 of wanted) {
    const file = there.get(sha256);
    const found =
      file === undefined
        ? null
        : createHash("sha256")
            .update(await readFile(file))
            .digest("hex");
    if (found === sha256) whole++;
    else problems.push(`${path}: the dropped file ${sha256} is ${found === null ? "gone" : "changed"}`);
  }
  return whole;
}
