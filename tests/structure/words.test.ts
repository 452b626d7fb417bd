// The list of words in DEVELOPERS.md names all that a user meets: commands, options, labels, flags, kinds, changes and
// states.
import { describe, expect, it } from "vitest";
import { FINISHES } from "../../src/board/board-schema.js";
import { main } from "../../src/cli/main.js";
import { ARTEFACT_KINDS } from "../../src/findings/findings-schema.js";
import { HOTSPOT_FLAGS } from "../../src/findings/hotspot-flags.js";
import { CHANGE_WORDS } from "../../src/report/describe-comparison.js";
import { CLASS_WORDS, DEED_WORDS, READING_CHANGE_WORDS } from "../../src/report/job-words.js";
import { ARTEFACT_WORDS } from "../../src/report/picture-marks.js";
import { fakeSurroundings } from "../unit/cli/fake-surroundings.js";
import { pageLabels } from "./page-labels.js";
import { readText } from "./project.js";

const [, section] = /\n## Words and marks\n([\s\S]*?)\n## /.exec(readText("DEVELOPERS.md"))!;
/** `--other-…` stands for all that begin so. */
const isListed = (word: string) =>
  section!.includes(`\`${word}\``) ||
  [...section!.matchAll(/`([a-zA-Z-]+-)…`/g)].some(([, start]) => word.startsWith(start!));

async function help(path: readonly string[]): Promise<string> {
  const surroundings = fakeSurroundings();
  await main([...path, "--help"], surroundings);
  return surroundings.printed().out;
}

/** Commands below a path, and the options of all of them. */
async function wordsBelow(path: readonly string[]): Promise<{ commands: string[]; options: string[] }> {
  const text = await help(path);
  const listed = /\nCommands:\n((?: .*\n)+)/.exec(text)?.[1] ?? "";
  const names = [...listed.matchAll(/^ {2}([a-z]+)/gm)].map(([, name]) => name!);
  const own = names.filter((name) => name !== "help");
  const below = await Promise.all(own.map((name) => wordsBelow([...path, name])));
  return {
    commands: [...own, ...below.flatMap(({ commands }) => commands)],
    options: [
      ...[...text.matchAll(/^ {2}(?:-\w, )?(--[a-z-]+)/gm)].map(([, option]) => option!),
      ...below.flatMap(({ options }) => options),
    ],
  };
}

/** Words that stand in the list as they are shown, whole. */
const saysWhole = (words: string) => {
  const plain = words.toLowerCase().replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
  return new RegExp(`(?<![a-z])${plain}(?![a-z])`).test(section!.toLowerCase());
};

describe("the list of words in DEVELOPERS.md", () => {
  it("names every command and option", async () => {
    const { commands, options } = await wordsBelow([]);
    expect([commands.length > 20, options.length > 60]).toEqual([true, true]);
    expect([...new Set([...commands, ...options])].filter((word) => !isListed(word))).toEqual([]);
    // And none that went.
    const listed = [...section!.matchAll(/`(--[a-z-]*[a-z])`/g)].map(([, option]) => option!);
    const known = new Set([...options, "--help", "--version"]);
    expect(listed.filter((option) => !known.has(option))).toEqual([]);
  });

  it("names every flag, every kind of what is no heat, and every finish", () => {
    const words = [...Object.keys(HOTSPOT_FLAGS), ...ARTEFACT_KINDS, ...FINISHES];
    expect(words.filter((word) => !isListed(word))).toEqual([]);
  });

  it("names every label of the page", () => {
    const labels = pageLabels();
    expect(labels.length).toBeGreaterThan(150);
    expect(labels.filter((label) => !saysWhole(label))).toEqual([]);
  });

  it("names every change, reading, work and kind of no heat in the words that are shown", () => {
    const shown = [CHANGE_WORDS, CLASS_WORDS, READING_CHANGE_WORDS, DEED_WORDS, ARTEFACT_WORDS];
    const words = shown.flatMap((each): string[] => Object.values(each));
    expect(words.length).toBeGreaterThan(25);
    expect(words.filter((word) => !saysWhole(word))).toEqual([]);
  });
});
