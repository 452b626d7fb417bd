// report: attempts held against each other → what changed, a table for each pair.
import type { Change, ComparedPart, Comparison } from "../compare/comparison-schema.js";
import { formatPower, formatSignificant } from "../core/format-quantity.js";
import { changeText } from "./describe-comparison.js";
import type { JobReportModel } from "./job-report-model.js";
import { oneLine } from "./job-words.js";
import type { DocumentBlock, MarkShape } from "./report-document.js";

const CHANGE_MARKS: Readonly<Record<Change, MarkShape>> = Object.freeze({
  persisted: "disc",
  gone: "ring",
  new: "plus",
  hotter: "up",
  cooler: "down",
  unsure: "dash",
});

/** What changed from each attempt to the next. */
export function jobComparisons({ comparisons }: JobReportModel): DocumentBlock[] {
  if (comparisons.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "What changed between attempts" },
    ...comparisons.flatMap(({ before, after, comparison, reason }): DocumentBlock[] => [
      { kind: "heading", level: 3, text: `Attempt ${before} to attempt ${after}` },
      ...(comparison === null
        ? [{ kind: "paragraph", text: `Not compared: ${oneLine(reason ?? "")}.` } as const]
        : comparedBlocks(before, after, comparison)),
    ]),
  ];
}

function comparedBlocks(before: number, after: number, comparison: Comparison): DocumentBlock[] {
  const { lookAt, notes } = comparison;
  return [
    { kind: "paragraph", tone: "strong", text: oneLine(comparison.verdict) },
    { kind: "paragraph", tone: "quiet", text: divisionText(comparison) },
    ...partsTable(before, after, comparison),
    ...(lookAt.length === 0
      ? []
      : [
          {
            kind: "list",
            items: lookAt.map(({ ref, side, why }) => `Look at ${ref} (${side}): ${oneLine(why)}`),
          } as const,
        ]),
    ...notes
      .filter(({ severity }) => severity === "warning")
      .map(({ text }): DocumentBlock => ({ kind: "paragraph", tone: "warning", text: oneLine(text) })),
  ];
}

/** What was divided out before anything was called a change. */
function divisionText({ division }: Comparison): string {
  const factor = formatSignificant(division.factor, 2);
  switch (division.by) {
    case "fed":
      return `Divided out: the later attempt was fed ${factor} times as much power.`;
    case "warm":
      return `The power was not noted for both; by the parts that are normally warm, the later attempt had ${factor} times as much, which is divided out.`;
    case "none":
      return "The power of the two attempts is not known, so nothing is divided out: hotter and cooler may be the supply's doing.";
  }
}

function partsTable(before: number, after: number, { parts }: Comparison): DocumentBlock[] {
  if (parts.length === 0) return [];
  return [
    {
      kind: "table",
      label: `Parts in attempts ${before} and ${after}`,
      columns: [
        { title: "Part" },
        { title: "Change", as: "whole" },
        { title: "Rise", as: "number" },
        { title: "Heat", as: "number" },
        { title: "z", as: "number" },
        { title: "Why", as: "words" },
      ],
      rows: parts.map((part) => [
        `${part.ref} (${part.side})${part.normallyWarm ? ", warm anyway" : ""}`,
        { mark: CHANGE_MARKS[part.change], text: changeText(part) },
        fromTo(part.riseK, (riseK) => `${formatSignificant(riseK, 2)} K`),
        fromTo(part.powerW, (watts) => formatPower(watts, null).text),
        part.z === null ? "–" : formatSignificant(part.z, 2),
        [oneLine(part.why), ...orElse(part)],
      ]),
    },
  ];
}

function orElse({ orElse: others }: ComparedPart): string[] {
  return others.length === 0 ? [] : [`It may be ${others.join(" or ")} instead.`];
}

function fromTo(pair: readonly [number | null, number | null], word: (value: number) => string): string {
  const [from, to] = pair.map((value) => (value === null ? "–" : word(value)));
  return `${from} → ${to}`;
}
