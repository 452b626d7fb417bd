// evaluate: scores and figures → everything that is printed at the end of a run.
import type { Kind } from "../simulate/scene.js";
import { reliability } from "./calibration.js";
import type { Figure } from "./figure.js";
import { printFigures, printReliability } from "./print-figures.js";
import { type Line, printTables, printWatts } from "./print-table.js";
import { ofWholeTool, type Score } from "./score.js";
import { firstCalls, summarise } from "./summary.js";

/** Tables by kind, watts, curves of calibration, and the yardstick last. */
export function printResults(
  kinds: readonly Kind[],
  scores: readonly Score[],
  figures: readonly Figure[],
): string {
  const tool = ofWholeTool(scores);
  const parts: string[] = [];
  if (scores.length > 0) parts.push(printTables(linesOf(kinds, scores)));
  if (tool.length > 0) {
    parts.push(printWatts(tool));
    parts.push(printReliability("first suspect", reliability(firstCalls(tool))));
    parts.push(printReliability("all suspects", reliability(tool.flatMap((score) => score.calls))));
  }
  if (figures.length > 0) parts.push(printFigures(figures));
  return parts.join("\n\n");
}

/** A line for each kind, then one for all kinds in which something heats. */
function linesOf(kinds: readonly Kind[], scores: readonly Score[]): Line[] {
  const line = (name: string, some: readonly Score[]): Line => {
    const tool = ofWholeTool(some);
    const plain = some.filter((score) => score.chain === "plain");
    return {
      name,
      tool: tool.length === 0 ? null : summarise(tool),
      plain: plain.length === 0 ? null : summarise(plain),
      powered: some.some((score) => score.rightFirst !== null),
    };
  };
  const byKind = kinds.flatMap((kind) => {
    const own = scores.filter((score) => score.kind === kind);
    return own.length === 0 ? [] : [line(kind, own)];
  });
  const powered = scores.filter((score) => score.rightFirst !== null);
  return powered.length === 0 ? byKind : [...byKind, line("all powered", powered)];
}
