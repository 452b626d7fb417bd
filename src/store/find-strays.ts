// store: a job folder and its journal → what lies in the folder and is no part of the job.
import type { Entry } from "../job/entry-schema.js";
import { type CheckProblem, noteProblem } from "./check-problem.js";
import { jobFiles } from "./job-files.js";
import { ASIDE, ATTEMPTS, attemptNumber, LOCK_FILE, pathIn, STAGE } from "./job-paths.js";
import type { Storage } from "./storage.js";

/** Find what nothing refers to. An attempt without its line was being added when a process died, or is being added now.
 *  @param sound false: attempts may be unreadable, so that it is not known which files belong to them. */
export async function findStrays(
  folder: string,
  entries: readonly Entry[],
  sound: boolean,
  storage: Storage,
): Promise<CheckProblem[]> {
  const files = new Set(await jobFiles(folder, entries, storage));
  const folders = new Set([...files].map((name) => name.slice(0, name.lastIndexOf("/") + 1)));
  const problems: CheckProblem[] = [];
  const strays: string[] = [];
  const walk = async (inside: string): Promise<void> => {
    for (const { name, kind } of await storage.list(pathIn(folder, inside))) {
      const path = inside + name;
      if (files.has(path) || isOurs(path)) continue;
      const number = inside === `${ATTEMPTS}/` ? attemptNumber(name) : null;
      const known = kind === "folder" && [...folders].some((one) => one.startsWith(`${path}/`));
      if (known) await walk(`${path}/`);
      else if (number !== null) {
        const text = `${path}: the journal does not speak of this attempt. It was being added when the process ended; add it again.`;
        problems.push(noteProblem("N_JOB_UNFINISHED", number, text));
      } else if (kind !== "folder" || (await storage.list(pathIn(folder, path))).length > 0)
        strays.push(path);
    }
  };
  await walk("");
  if (sound && strays.length > 0) {
    const some = strays.slice(0, 3).join(", ");
    const more = strays.length > 3 ? ` and ${strays.length - 3} more` : "";
    problems.push(noteProblem("N_JOB_STRAY", null, `No part of the job: ${some}${more}.`));
  }
  return problems;
}

/** Folders of the reports of the whole job, of what the bench was given and is no attempt yet, and of pictures that it
 *  made. */
const BESIDE: readonly string[] = ["report", "inbox", "cache"];

/** What the tool itself makes in a job folder beside the job. */
function isOurs(path: string): boolean {
  return (
    [LOCK_FILE, ASIDE, ...BESIDE].includes(path) || path.startsWith(`${LOCK_FILE}.`) || path.startsWith(STAGE)
  );
}
