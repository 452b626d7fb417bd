// The records of DEVELOPERS.md are numbered without gaps, each stands in their index, and what guards it is there.
import { posix } from "node:path";
import { describe, expect, it } from "vitest";
import { SPECIAL_FIGURES } from "../evaluate/figures/special.js";
import { listFiles, markdownSection, markdownTable, readText } from "./project.js";

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

/** What each record says after "Guard:", up to the end of its paragraph, with the record's number. */
const guards = decisions.split(/\n(?=\*\*\d+\. )/).flatMap((record) => {
  const [, number] = /^\*\*(\d+)\. /.exec(record) ?? [];
  if (number === undefined) return [];
  const paragraphs = record.split(/\n\s*\n/).map((words) => words.replace(/\s+/g, " "));
  return paragraphs.flatMap((words) =>
    words
      .split(/(?=\bGuard: )/)
      .slice(1)
      .map((guard) => ({ number, guard })),
  );
});
const tests = [".ts", ".tsx"].flatMap((ending) => listFiles("tests", ending));

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

  it("name as their guards tests, titles of tests and figures that there are", () => {
    const names = new Set(tests.map((path) => posix.basename(path)));
    const texts = tests.map((path) => readText(path).replace(/\s+/g, " "));
    const figures = SPECIAL_FIGURES.map(({ name }) => name);
    const isThere = (file: string): boolean =>
      file.includes("/") ? tests.includes(file) : names.has(posix.basename(file));
    const missing = guards.flatMap(({ number, guard }) => {
      const files = [...guard.matchAll(/[\w/-]+\.test\.tsx?/g)].map(([file]) => file);
      const titles = [...guard.matchAll(/"([^"]+)"/g)].map(([, title]) => title!.replace(/ ?…$/, ""));
      const named = [...guard.matchAll(/figures? `(\w+)`/g)].map(([, name]) => name!);
      return [
        ...files.filter((file) => !isThere(file)),
        ...titles.filter((title) => !texts.some((text) => text.includes(title))),
        ...named.filter((name) => !figures.includes(name)),
      ].map((what) => `${number}: ${what}`);
    });
    expect(guards.length).toBeGreaterThan(200);
    expect(missing).toEqual([]);
  });
});
