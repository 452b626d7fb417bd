// evaluate: items that are done → lines on stderr: each kind as it is complete, and how long the rest will take.

import { shareText, withInterval } from "./lay-table.js";
import type { Item } from "./run-items.js";
import { ofWholeTool, type Score } from "./score.js";
import { summarise } from "./summary.js";

/** Seconds between two lines that say how far it is. */
const EVERY_S = 60;

/** Follow a run.
 *  @param scores all scores so far, for the line of a kind; read when a kind is complete.
 *  @returns called after each item.
 */
export function followProgress(items: readonly Item[], scores: () => readonly Score[]): (item: Item) => void {
  const started = performance.now();
  const left = new Map<string, number>();
  const nameOf = (item: Item): string => (item.type === "trial" ? `figure ${item.figure}` : item.kind);
  for (const item of items) left.set(nameOf(item), (left.get(nameOf(item)) ?? 0) + 1);
  let done = 0;
  let said = started;
  return (item) => {
    done++;
    const name = nameOf(item);
    left.set(name, left.get(name)! - 1);
    const now = performance.now();
    if (left.get(name) === 0)
      process.stderr.write(`${minutes(now - started)}  ${name}: ${line(name, scores())}\n`);
    if (now - said < 1000 * EVERY_S) return;
    said = now;
    const rest = ((now - started) / done) * (items.length - done);
    process.stderr.write(
      `${minutes(now - started)}  ${done} of ${items.length}, about ${minutes(rest)} to go\n`,
    );
  };
}

function line(name: string, scores: readonly Score[]): string {
  const own = ofWholeTool(scores).filter((score) => score.kind === name);
  if (own.length === 0) return "done";
  const { rightFirst, clean, failures } = summarise(own);
  const first = rightFirst === null ? "" : `right first ${withInterval(rightFirst)}, `;
  return `${first}clean ${shareText(clean)}, failed ${failures}`;
}

function minutes(ms: number): string {
  const s = Math.round(ms / 1000);
  return `${Math.floor(s / 60)}:${String(s % 60).padStart(2, "0")}`;
}
