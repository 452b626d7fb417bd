// How files are named, how long they may be, how they begin, and what lies at the top of the project.
import { accessSync, constants, readdirSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { TOOL_VERSION } from "../../src/core/tool-version.js";
import { factsOf } from "./parse-source.js";
import {
  gitFiles,
  listFiles,
  markdownSection,
  markdownTable,
  PROJECT,
  readText,
  sourceFiles,
  stageOf,
} from "./project.js";

const sources = sourceFiles();
const all = ["src", "tests", "sample-frames", "bin"].flatMap((folder) =>
  [".ts", ".tsx", ".js", ".py"].flatMap((ends) => listFiles(folder, ends)),
);

/** Entries that the top of the project may have, as agreed: nothing else is looked for there by anyone. */
const TOP_LEVEL = [
  "DEVELOPERS.md",
  "LICENSE",
  "README.md",
  "bin",
  "package-lock.json",
  "package.json",
  "sample-frames",
  "src",
  "tests",
  "tsconfig.json",
];

const lineCount = (path: string): number => readText(path).split("\n").length - 1;
/** A comment that a formatter does not break, wider than its code may be by a little. */
const isWideComment = (line: string): boolean =>
  [...line].length > 120 && /^\s*(?:\/\/|\*|\/\*\*)\s*\S+\s/.test([...line].slice(0, 120).join(""));
const nameOf = (path: string): string => path.slice(path.lastIndexOf("/") + 1);

describe("files", () => {
  it("are at most 400 lines long", () => {
    expect(all.length).toBeGreaterThan(100);
    expect(all.filter((path) => lineCount(path) > 400).map((path) => `${path}: ${lineCount(path)}`)).toEqual(
      [],
    );
  });

  it("of more than 250 lines stand in DEVELOPERS.md with a reason, and no others", () => {
    const rows = markdownTable(markdownSection(readText("DEVELOPERS.md"), "## Files over 250 lines"));
    const listed = rows.map(([path]) => path!.replaceAll("`", ""));
    expect(listed.sort()).toEqual(all.filter((path) => lineCount(path) > 250).sort());
    expect(rows.filter(([, reason]) => (reason ?? "").length < 15)).toEqual([]);
  });

  it("have comments of at most 120 columns, but for words without a blank", () => {
    const wide = all.flatMap((path) =>
      readText(path)
        .split("\n")
        .flatMap((line, k) => (isWideComment(line) ? [`${path}:${k + 1}`] : [])),
    );
    expect(wide).toEqual([]);
    const words = Array.from({ length: 20 }, () => "letters").join(" ");
    expect(isWideComment(`  // ${words}`)).toBe(true);
    expect(isWideComment(` *  ${words}`)).toBe(true);
    expect(isWideComment(`  // ${words.replaceAll(" ", "/")}`)).toBe(false);
    expect(isWideComment(`  const text = "${words}";`)).toBe(false);
  });

  it("have names in kebab case, that say what they do", () => {
    const typescript = all.filter((path) => /\.tsx?$/.test(path)).map(nameOf);
    const kebab = /^[a-z0-9]+(?:-[a-z0-9]+)*(?:\.test|\.config)?\.tsx?$/;
    expect(typescript.filter((name) => !kebab.test(name))).toEqual([]);
    const empty = /(?:^|-)(?:utils?|helpers?|common|managers?|misc)(?:[-.]|$)/;
    expect(typescript.filter((name) => empty.test(name))).toEqual([]);
  });

  it("of the sources begin with their stage and what they do", () => {
    const wrong = sources.filter((path) => {
      const stage = stageOf(path);
      const head = stage === null ? /^\/\/ The library: \S/ : new RegExp(`^// ${stage}: \\S`);
      return !head.test(readText(path).split("\n")[0]!);
    });
    expect(wrong).toEqual([]);
  });

  it("have named exports only, and the one file that passes on others' exports is the library", () => {
    const facts = all
      .filter((path) => /\.tsx?$/.test(path) && !path.endsWith("/vitest.config.ts"))
      .map((path) => ({ path, ...factsOf(path) }));
    expect(facts.filter(({ hasDefaultExport }) => hasDefaultExport).map(({ path }) => path)).toEqual([]);
    expect(facts.filter(({ reExports }) => reExports > 0).map(({ path }) => path)).toEqual(["src/index.ts"]);
  });

  it("of the sources explain every function, class and interface that they export", () => {
    const bare = sources.flatMap((path) => factsOf(path).undocumented.map((name) => `${path}: ${name}`));
    expect(bare).toEqual([]);
  });

  it("hold nothing left to be done later, and no skipped test", () => {
    const later = new RegExp(["TO", "DO|FIX", "ME|X", "XX"].join(""));
    expect(all.filter((path) => later.test(readText(path)))).toEqual([]);
    const skipped = /\b(?:it|test|describe)\.(?:skip|only|todo)\(/;
    expect(all.filter((path) => path.endsWith(".test.ts") && skipped.test(readText(path)))).toEqual([]);
  });

  it("name no folder of somebody's machine", () => {
    const git = gitFiles() ?? [...all, "README.md", "DEVELOPERS.md", "package.json", ".ci/run"];
    const machine = new RegExp(
      ["/ho", "me/|/ro", "ot/|/Us", "ers/|/wo", "rk/|[A-Z]:\\\\\\\\Us", "ers"].join(""),
    );
    const text = git.filter((path) => /\.(?:tsx?|js|py|md|json|css|html)$|^\.ci\//.test(path));
    expect(text.filter((path) => machine.test(readText(path)))).toEqual([]);
  });
});

describe("the top of the project", () => {
  it("holds what was agreed, and hidden files", () => {
    const found = (gitFiles() ?? withoutIgnored()).map((path) => path.split("/")[0]!);
    const shown = [...new Set(found)].filter((name) => !name.startsWith("."));
    expect(shown.sort()).toEqual(TOP_LEVEL);
  });

  /** Without git, as in an unpacked archive: what .gitignore leaves. */
  function withoutIgnored(): string[] {
    const ignored = readText(".gitignore")
      .split("\n")
      .map((line) => line.replaceAll("/", ""));
    return readdirSync(PROJECT).filter((name) => !ignored.includes(name) && !name.endsWith(".tgz"));
  }
});

describe("what is run by name", () => {
  it.skipIf(process.platform === "win32")("may be run", () => {
    for (const path of ["bin/faultglow.js", ".ci/run"]) {
      accessSync(join(PROJECT, path), constants.X_OK);
      expect(readText(path), path).toMatch(/^#!/);
    }
  });
});

describe("the version", () => {
  it("in the code is that of package.json", () => {
    expect(TOOL_VERSION).toBe(JSON.parse(readText("package.json")).version);
  });
});

describe("the lock file", () => {
  it("names no place to download from, and npm is told to keep it so", () => {
    expect(readText("package-lock.json")).not.toMatch(/"resolved"|\.tgz"/);
    expect(readText(".npmrc")).toContain("omit-lockfile-registry-resolved=true");
  });

  it("is of the version that package.json has", () => {
    const lock = JSON.parse(readText("package-lock.json"));
    const manifest = JSON.parse(readText("package.json"));
    const [root] = [lock.packages[""]];
    expect([lock.version, root.dependencies, root.devDependencies]).toEqual([
      manifest.version,
      manifest.dependencies,
      manifest.devDependencies,
    ]);
  });
});
