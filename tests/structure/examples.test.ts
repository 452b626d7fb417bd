// Commands that the documents and the help show for files of the reader's own are understood word by word: they end
// where the first of these files is missing, and not before.
import { describe, expect, it } from "vitest";
import { main } from "../../src/cli/main.js";
import { fakeSurroundings } from "../unit/cli/fake-surroundings.js";
import { helpOf } from "./help-of.js";
import { listFiles, readText } from "./project.js";
import { shellWords } from "./readme.js";

/** They serve, or write to the machine, in place of reading files. */
const NEED_NO_FILE = /^(?:bench|completion|doctor|demo|guide)\b/;
/** What is said where a file, a folder or a job is not there. */
const MISSING =
  /^E_(?:FRAME_NONE|FRAME_READ|JSON_READ|IMPORT_READ|JOB_NONE|WATCH_FOLDER|JOB_PACK): |there is no such file\./;

/** Commands in the blocks and the spans of code of a document. */
function commandsIn(text: string): string[] {
  const blocks = [...text.matchAll(/^```sh\n(.*?)^```/gms)].map((match) => match[1]!);
  const inSpans = [...text.matchAll(/`(?:npx )?faultglow ([^`\n]* [^`\n]*)`/g)].map((match) => match[1]!);
  return [...blocks.flatMap(linesOfCommands), ...inSpans.map(withoutShell)];
}

/** Lines that call the tool, as blocks of documents and the help show them. */
function linesOfCommands(text: string): string[] {
  const lines = text.replaceAll("\\\n", " ").split("\n");
  return lines.flatMap((line) => /^ {0,2}faultglow (.+)$/.exec(line)?.[1] ?? []).map(withoutShell);
}

/** A command without what a shell does with its output, and without a remark. */
function withoutShell(words: string): string {
  return words.replace(/ +#.*$| >>? .*$/, "").trim();
}

const documents = ["README.md", ...listFiles("src/guide", ".md")];
const helps = [
  ["find"],
  ["compare"],
  ["watch"],
  ["bench"],
  ["board", "import"],
  ["board", "place"],
  ["job"],
  ["job", "attempt"],
];
const examples = [
  ...documents.flatMap((path) => commandsIn(readText(path))),
  ...(await Promise.all(helps.map(helpOf))).flatMap(linesOfCommands),
];

describe("examples for files of the reader's own", () => {
  it("are found in documents and help", () => {
    expect(examples.length).toBeGreaterThan(25);
  });

  it.each([...new Set(examples)].filter((words) => !NEED_NO_FILE.test(words)))("%s", async (words) => {
    const surroundings = fakeSurroundings();
    const list = shellWords(words);
    // A command that is only named (`faultglow job show`) says what it lacks.
    const isNamed = list.every((word) => /^[a-z]+$/.test(word)) && list.length <= 2;
    await main(isNamed ? [...list, "--help"] : list, surroundings);
    const { out, err } = surroundings.printed();
    if (isNamed) expect(out).toContain(`Usage: faultglow ${words}`);
    else expect(err).toMatch(MISSING);
  });
});
