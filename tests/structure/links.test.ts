// Links of the documents lead to files and headings that are there.
import { existsSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { brokenLinks } from "./broken-links.js";
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

  it("are seen to be broken where they are", () => {
    const text =
      "# A\n[a](#a) [b](#b) [c](c.md) ![d](d.png) [e](../e.md#e-f) [f](../e.md#g) [w](https://x.y/z) `[n](no)`\n";
    const files: Record<string, string> = { "docs/c.md": "", "e.md": "## E *f*\n" };
    expect(brokenLinks("docs/a.md", text, (path) => files[path] ?? null)).toEqual([
      "#b",
      "d.png",
      "../e.md#g",
    ]);
  });
});
