// The records of DEVELOPERS.md are numbered without gaps, and each stands in their index.
import { describe, expect, it } from "vitest";
import { markdownSection, markdownTable, readText } from "./project.js";

const decisions = markdownSection(readText("DEVELOPERS.md"), "## Decisions");
const numbers = [...decisions.matchAll(/^\*\*(\d+)\. /gm)].map(([, number]) => Number(number));

/** `1–3, 7` → 1, 2, 3, 7. */
function listed(words: string): number[] {
  return words.split(", ").flatMap((word) => {
    const [, first, last = first] = /^(\d+)(?:–(\d+))?$/.exec(word) ?? [];
    expect(first, `"${word}" is no number of a record, and no range of them`).toBeDefined();
    return Array.from({ length: Number(last) - Number(first) + 1 }, (_, i) => Number(first) + i);
  });
}

describe("the records", () => {
  it("are numbered in their order, without gaps", () => {
    expect(numbers.length).toBeGreaterThan(280);
    expect(numbers).toEqual(numbers.map((_, i) => i + 1));
  });

  it("stand in the index, each under one subject at least, and nothing else does", () => {
    const inIndex = new Set(markdownTable(decisions).flatMap(([, words]) => listed(words!)));
    expect(numbers.filter((number) => !inIndex.has(number))).toEqual([]);
    expect([...inIndex].filter((number) => !numbers.includes(number))).toEqual([]);
  });

  it("stand in rising order under each subject", () => {
    for (const [subject, words] of markdownTable(decisions)) {
      const own = listed(words!);
      expect(own, subject).toEqual([...own].sort((a, b) => a - b));
    }
  });
});
