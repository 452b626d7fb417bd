// The page as it was built: what a browser loads before it shows anything stays small.
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";
import { PROJECT } from "./project.js";

/** Bar for the initial load, compressed, bytes. */
const MOST_BYTES = 200_000;
const PAGE = join(PROJECT, "dist/page");

/** What the document names, and what the scripts among that import at once; `import(…)` is loaded later, if ever. */
function initialFiles(): string[] {
  const html = readFileSync(join(PAGE, "index.html"), "utf8");
  const found = new Set<string>();
  const take = (name: string): void => {
    if (found.has(name)) return;
    found.add(name);
    if (!name.endsWith(".js")) return;
    const code = readFileSync(join(PAGE, "assets", name), "utf8");
    for (const [, other] of code.matchAll(/\b(?:from|import)\s*"\.\/([^"]+)"/g)) take(other!);
  };
  for (const [, name] of html.matchAll(/(?:src|href)="\/assets\/([^"]+)"/g)) take(name!);
  return [...found];
}

describe.skipIf(!existsSync(join(PAGE, "index.html")))(
  "the page's initial load (needs npm run build)",
  () => {
    it("is a script, its imports and its styles, under 200 kB compressed", () => {
      const files = initialFiles();
      expect(files.some((name) => /^main-.*\.js$/.test(name))).toBe(true);
      expect(files.some((name) => /^main-.*\.css$/.test(name))).toBe(true);
      // The editor is a chunk of its own, which only the section with the board loads.
      expect(files.filter((name) => name.startsWith("draw-view"))).toEqual([]);
      const bytes = files.reduce(
        (sum, name) => sum + gzipSync(readFileSync(join(PAGE, "assets", name))).length,
        gzipSync(readFileSync(join(PAGE, "index.html"))).length,
      );
      expect(bytes).toBeLessThan(MOST_BYTES);
      // Small files would mean that something was not followed: the view library alone has more.
      expect(bytes).toBeGreaterThan(10_000);
    });
  },
);
