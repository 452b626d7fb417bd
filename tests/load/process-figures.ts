// load: number of a process → its memory, that of its children, and the files it holds open.
import { execFileSync } from "node:child_process";
import { readdir } from "node:fs/promises";

/** What a process takes at a moment. */
export interface LoadFigures {
  /** Resident memory, MiB. */
  readonly ownMiB: number;
  /** That of all its children. */
  readonly workersMiB: number;
  /** Open files and connections; null where the system has no /proc. */
  readonly files: number | null;
}

/** Look at a process and its children. @param pid of a process that runs. */
export async function processFigures(pid: number): Promise<LoadFigures> {
  const rows = execFileSync("ps", ["-A", "-o", "pid=,ppid=,rss="], { encoding: "utf8" })
    .trim()
    .split("\n")
    .map((line) => line.trim().split(/\s+/).map(Number));
  const sumMiB = (matches: (row: number[]) => boolean): number =>
    rows.filter(matches).reduce((sum, [, , kib]) => sum + kib! / 1024, 0);
  const files = await readdir(`/proc/${pid}/fd`).then(
    (names) => names.length,
    () => null,
  );
  return {
    ownMiB: sumMiB(([own]) => own === pid),
    workersMiB: sumMiB(([, parent]) => parent === pid),
    files,
  };
}

/** Whether memory has stopped growing: the median of the last third against that of the one before it.
 *  A tenth and 16 MiB more are no growth: Node's heap breathes by that much between two collections.
 *  @param samples MiB, one after the other, evenly. */
export function isLevel(samples: readonly number[]): { readonly level: boolean; readonly text: string } {
  const third = Math.floor(samples.length / 3);
  if (third < 2) return { level: true, text: `${samples.join(", ")} MiB: too few samples to judge` };
  const medianOf = (part: readonly number[]): number => [...part].sort((a, b) => a - b)[part.length >> 1]!;
  const [middle, last] = [medianOf(samples.slice(third, 2 * third)), medianOf(samples.slice(2 * third))];
  const level = last <= 1.1 * middle + 16;
  const text = `median ${middle.toFixed(0)} MiB in the middle third, ${last.toFixed(0)} MiB in the last, at most ${Math.max(...samples).toFixed(0)} MiB: ${level ? "level" : "it grows"}.`;
  return { level, text };
}
