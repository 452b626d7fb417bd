// serve: a job folder → what its journal's size and time say: as long as that stays, so does all that the job holds.
import { stat } from "node:fs/promises";
import { JOURNAL_FILE, pathIn } from "../store/job-paths.js";

/** Stamp of a job's journal; "none" where there is none. */
export async function journalStamp(folder: string): Promise<string> {
  const info = await stat(pathIn(folder, JOURNAL_FILE), { bigint: true }).catch(() => null);
  return info === null ? "none" : `${info.size} ${info.mtimeNs} ${info.ino}`;
}
