// Links of the documents lead to files and headings that are there.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { brokenLinks, missingPaths } from "./broken-links.js";
import { gitFiles, listFiles, PROJECT, readText } from "./project.js";

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
  });
});
