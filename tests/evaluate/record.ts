// evaluate: scores and trials ↔ a file that grows as they come, so that a run can be continued.
// One JSON value a line: first what was measured, then a score or a trial each.
import { createHash } from "node:crypto";
import { appendFileSync, existsSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Item, Outcome, Trial, Variant } from "./run-items.js";
import type { Score } from "./score.js";

const PROJECT = fileURLToPath(new URL("../../", import.meta.url));
const FIRST_LINE = "faultglow/evaluation";

/** What has been measured so far. */
export interface RunRecord {
  readonly scores: Score[];
  readonly trials: Trial[];
}

/** Open a file, or begin it.
 *  @param mixed take up results of other sources too.
 *  @throws Error if the file is none of ours, or was made with other sources.
 */
export function openRecord(file: string, mixed: boolean): RunRecord {
  const sources = hashOf(["src", "tests/simulate", "tests/evaluate"]);
  const record: RunRecord = { scores: [], trials: [] };
  if (!existsSync(file)) {
    writeFileSync(file, `${JSON.stringify({ kind: FIRST_LINE, version: 1, sources })}\n`);
    return record;
  }
  const [head, ...lines] = readFileSync(file, "utf8").split("\n");
  const first = parse(head ?? "") as { kind?: unknown; sources?: unknown } | null;
  if (first?.kind !== FIRST_LINE) throw new Error(`${file} is no record of an evaluation; name another file`);
  if (first.sources !== sources && !mixed) {
    throw new Error(`${file} was made with other sources; name another file, or say --mixed to add to it`);
  }
  for (const line of lines) {
    // A run that was cut off leaves half a line: its scene is measured anew.
    const one = parse(line) as { score?: Score; trial?: Trial } | null;
    // JSON knows no NaN.
    if (one?.score) record.scores.push({ ...one.score, alignErrorPx: one.score.alignErrorPx ?? Number.NaN });
    if (one?.trial) record.trials.push(one.trial);
  }
  if (!lines.at(-1)?.endsWith("}") && lines.at(-1) !== "") appendFileSync(file, "\n");
  return record;
}

/** Add what came of an item. */
export function addToRecord(file: string, { scores, trials }: Outcome): void {
  const lines = [...scores.map((score) => ({ score })), ...trials.map((trial) => ({ trial }))];
  appendFileSync(file, lines.map((line) => `${JSON.stringify(line)}\n`).join(""));
}

/** What of the items is still to be done. */
export function stillToDo(items: readonly Item[], { scores, trials }: RunRecord): Item[] {
  const done = new Set([
    ...scores.map(({ kind, seed, chain, variant }) => `${kind}/${seed}/${chain}/${variant}`),
    ...trials.map(({ figure, index, seed }) => `trial/${figure}/${index}/${seed}`),
  ]);
  return items.flatMap((item): Item[] => {
    if (item.type === "trial")
      return done.has(`trial/${item.figure}/${item.index}/${item.seed}`) ? [] : [item];
    const has = (chain: string, variant: string): boolean =>
      done.has(`${item.kind}/${item.seed}/${chain}/${variant}`);
    const variants = item.variants.filter((one: Variant) => !has("faultglow", one.name));
    const plain = item.plain && !has("plain", "whole");
    return variants.length === 0 && !plain ? [] : [{ ...item, variants, plain }];
  });
}

function parse(line: string): unknown {
  try {
    return JSON.parse(line) as unknown;
  } catch {
    return null;
  }
}

/** Hash of the sources in some folders of the project. */
export function hashOf(folders: readonly string[]): string {
  const hash = createHash("sha256");
  for (const folder of folders) {
    const files = readdirSync(join(PROJECT, folder), { recursive: true, encoding: "utf8" }).sort();
    for (const file of files) {
      if (file.endsWith(".ts")) hash.update(file).update(readFileSync(join(PROJECT, folder, file)));
    }
  }
  return hash.digest("hex").slice(0, 16);
}
