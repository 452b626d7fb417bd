// Tables of codes in the code and in the README are the same, every code is used, and every error is provoked.
import { describe, expect, it } from "vitest";
import { ERROR_CODES } from "../../src/core/errors.js";
import { NOTE_CODES } from "../../src/core/notes.js";
import { ARTEFACT_KINDS } from "../../src/findings/findings-schema.js";
import { HOTSPOT_FLAGS } from "../../src/findings/hotspot-flags.js";
import { factsOf } from "./parse-source.js";
import { listFiles, markdownSection, markdownTable, readText } from "./project.js";

const readme = readText("README.md");

/** String values in the sources, without the file in which the codes are listed. */
function stringsOf(folder: string, without: string): Set<string> {
  const files = listFiles(folder, ".ts").filter((path) => path !== without);
  return new Set(files.flatMap((path) => factsOf(path).strings));
}

/** First column of the README's table under a heading, without its back quotes, and the other cells. */
function tableUnder(heading: string): [string, string[]][] {
  return markdownTable(markdownSection(readme, heading)).map(([code, ...cells]) => [
    code!.replaceAll("`", ""),
    cells,
  ]);
}

const testTexts = listFiles("tests", ".test.ts")
  .filter((path) => !path.startsWith("tests/structure/"))
  .map(readText)
  .join("\n");
const isTested = (code: string): boolean => new RegExp(`\\b${code}\\b`).test(testTexts);

describe("error codes", () => {
  const codes = Object.keys(ERROR_CODES);

  it("are all thrown somewhere", () => {
    const used = stringsOf("src", "src/core/errors.ts");
    expect(codes.filter((code) => !used.has(code))).toEqual([]);
  });

  it("are all provoked by a test", () => {
    expect(codes.filter((code) => !isTested(code))).toEqual([]);
  });

  it("stand in the README with their meaning, and no others do", () => {
    const expected = Object.entries(ERROR_CODES).map(([code, meaning]) => [code, meaning]);
    expect(tableUnder("## Errors").map(([code, [meaning]]) => [code, meaning])).toEqual(expected);
  });
});

describe("note codes", () => {
  const codes = Object.keys(NOTE_CODES);

  it("are all given somewhere", () => {
    const used = stringsOf("src", "src/core/notes.ts");
    expect(codes.filter((code) => !used.has(code))).toEqual([]);
  });

  it("are all provoked by a test", () => {
    expect(codes.filter((code) => !isTested(code))).toEqual([]);
  });

  it("stand in the README with severity and meaning, and no others do", () => {
    const expected = Object.entries(NOTE_CODES).map(([code, { severity, meaning }]) => [
      code,
      severity,
      meaning,
    ]);
    expect(tableUnder("## Notes").map(([code, cells]) => [code, ...cells])).toEqual(expected);
  });
});

describe("flags of hotspots", () => {
  it("are all set somewhere", () => {
    const used = stringsOf("src/findings", "src/findings/findings-schema.ts");
    expect(Object.keys(HOTSPOT_FLAGS).filter((flag) => !used.has(flag))).toEqual([]);
  });

  it("stand in the README with their meaning, and no others do", () => {
    const expected = Object.entries(HOTSPOT_FLAGS).map(([flag, meaning]) => [flag, meaning]);
    expect(tableUnder("## Flags of hotspots").map(([flag, [meaning]]) => [flag, meaning])).toEqual(expected);
  });
});

describe("kinds of artefacts", () => {
  it("that the code sets stand in the README, and no others do", () => {
    const used = stringsOf("src/findings", "src/findings/findings-schema.ts");
    const set = ARTEFACT_KINDS.filter((kind) => used.has(kind));
    expect(tableUnder("## What is judged to be no heat").map(([kind]) => kind)).toEqual(set);
  });
});
