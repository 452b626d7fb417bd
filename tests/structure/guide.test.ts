// The guide: every page has a file, every file is a page, and the page of constants is what the code says.
import { describe, expect, it } from "vitest";
import { GUIDE_PAGES } from "../../src/cli/guide-command.js";
import { CAUTIONS } from "../../src/report/cautions.js";
import { constantsPage } from "./constants.js";
import { listFiles, readText } from "./project.js";
import { constantsOf } from "./read-constants.js";

const page = (name: string): string => readText(`src/guide/${name}.md`);

describe("the guide", () => {
  it("has a file for each page, and a page for each file", () => {
    const files = listFiles("src/guide", ".md").map((path) => path.slice("src/guide/".length, -".md".length));
    expect(files.sort()).toEqual(Object.keys(GUIDE_PAGES).sort());
  });

  it("has the constants that the code has (else: npm run readme)", () => {
    expect(page("constants")).toBe(constantsPage());
  });

  it("has a reason for every constant", () => {
    const bare = page("constants").match(/^\| `.*\| +\|$/gm) ?? [];
    expect(bare).toEqual([]);
    const found = constantsOf("src/compare/compare-options.ts").map(({ name, value }) => `${name} ${value}`);
    expect(found).toContain("COMPARE_DEFAULTS.falseDiscoveryRate 0.02");
  });

  it("names codes and flags that there are", () => {
    const known = new Set(readText("README.md").match(/`[EN]_[A-Z_]+`/g));
    const named = Object.keys(GUIDE_PAGES).flatMap((name) => page(name).match(/`[EN]_[A-Z_]+`/g) ?? []);
    expect(named.length).toBeGreaterThan(10);
    expect(named.filter((code) => !known.has(code))).toEqual([]);
  });

  it("has an entry in the changelog for the version", () => {
    expect(page("changelog")).toContain(`\n## ${JSON.parse(readText("package.json")).version}\n`);
  });

  it("repeats the cautions on cells and voltage before it tells how to take frames", () => {
    expect(CAUTIONS.length).toBeGreaterThan(3);
    const before = page("taking-frames").split("## The set-up")[0]!;
    for (const word of ["cell", "swollen", "nominal voltage", "rules"]) expect(before).toContain(word);
  });
});
