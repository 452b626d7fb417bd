// Links of the documents lead to files and headings that are there.
import { existsSync } from "node:fs";
import { join, posix } from "node:path";
import { describe, expect, it } from "vitest";
import { brokenLinks, misplacedNames, missingFiles, missingPaths, unknownNames } from "./broken-links.js";
import { gitFiles, listFiles, markdownSection, PROJECT, readText } from "./project.js";

const documents = (gitFiles() ?? ["README.md", "DEVELOPERS.md", ...listFiles("src/guide", ".md")]).filter(
  (path) => path.endsWith(".md"),
);

function readFromProject(path: string): string | null {
  if (!existsSync(join(PROJECT, path))) return null;
  return path.endsWith(".md") ? readText(path) : "";
}

describe("links of the documents", () => {
  it("are looked at in all of them", () => {
    expect(documents).toEqual(expect.arrayContaining(["README.md", "DEVELOPERS.md", "src/guide/method.md"]));
  });

  it.each(documents)("of %s lead to files and headings that are there", (path) => {
    expect(brokenLinks(path, readText(path), readFromProject)).toEqual([]);
  });

  it.each(documents)("of %s that stand as code in it do so, too", (path) => {
    expect(missingPaths(readText(path), (file) => existsSync(join(PROJECT, file)))).toEqual([]);
  });

  it("in the recipes name what a file defines where they say that it has it", () => {
    const recipes = markdownSection(readText("DEVELOPERS.md"), "## Recipes");
    const readSource = (file: string): string | null =>
      existsSync(join(PROJECT, file)) ? readText(file) : null;
    expect(misplacedNames(recipes, readSource)).toEqual([]);
  });

  it("in the part of DEVELOPERS.md that says how it is now name what there is", () => {
    const [now, measured] = readText("DEVELOPERS.md").split("\n## Where a run's time goes\n");
    expect(measured).toContain("\n## Decisions\n");
    const endings = [".ts", ".tsx", ".mjs", ".cjs", ".as", ".py"];
    const files = ["src", "tests", "sample-frames"].flatMap((folder) =>
      endings.flatMap((ending) => listFiles(folder, ending)),
    );
    expect(missingFiles(now!, new Set(files.map((path) => posix.basename(path))))).toEqual([]);
    const settings = ["package.json", "tsconfig.json", ".biome.json"];
    const words = new Set([...files, ...settings].flatMap((path) => readText(path).match(/\w+/g) ?? []));
    expect(unknownNames(now!, (name) => words.has(name))).toEqual([]);
  });

  it("are seen to be broken where they are", () => {
    const text =
      "# A\n[a](#a) [b](#b) [c](c.md) ![d](d.png) [e](../e.md#e-f) [f](../e.md#g) [w](https://x.y/z) `[n](no)`\n";
    const files: Record<string, string> = { "docs/c.md": "", "e.md": "## E *f*\n" };
    expect(brokenLinks("docs/a.md", text, (path) => files[path] ?? null)).toEqual([
      "#b",
      "d.png",
      "../e.md#g",
    ]);
    const named =
      "`src/a.ts` and `tests/b/`, `src/c-….ts`, `src/*.ts`, `npx tsx tests/d.ts`, `a/src/e.ts`\n```\n`src/f.ts`\n```\n";
    expect(missingPaths(named, (path) => path === "tests/b/")).toEqual(["src/a.ts"]);
    const claimed = "`A` of `src/a.ts`, `B`\nin `src/a.ts`, `C` of `src/c.ts`, `D` of `src/d-….ts`";
    const source = 'import { B } from "./b.js";\nexport const A = B;\n';
    expect(misplacedNames(claimed, (path) => (path === "src/a.ts" ? source : null))).toEqual([
      "B of src/a.ts",
      "C of src/c.ts",
    ]);
    expect(missingFiles("`a.ts`, b.test.ts and `src/c.ts`, `…-d.ts`, e.tsx", new Set(["e.tsx"]))).toEqual([
      "a.ts",
      "b.test.ts",
    ]);
    expect(unknownNames("`oldName` and `NEW_NAME()`, `plain`, `a b`", (name) => name === "NEW_NAME")).toEqual(
      ["oldName"],
    );
  });
});
