// The accessibility checker axe finds nothing on any section of a job, in light and dark, on a laptop, a tablet and a large
// screen; nothing reaches beyond the edge of the window.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import { afterEach, describe, expect, it } from "vitest";
import { keepShot } from "./keep-shot.js";
import { type OpenBench, openBenchPage } from "./open-bench.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const SECTIONS = ["Frames", "Board", "Answer", "Attempts", "Readings", "Report"] as const;
const SIZES = [
  { name: "laptop", colorScheme: "light", viewport: { width: 1366, height: 768 } },
  { name: "large", colorScheme: "dark", viewport: { width: 3840, height: 2160 } },
  { name: "tablet", colorScheme: "dark", viewport: { width: 820, height: 1180 } },
] as const;

let open: OpenBench;
afterEach(() => open?.close());

/** What axe finds, one line for each. */
async function faultsOf(): Promise<string[]> {
  await open.page.evaluate(AXE);
  const { violations } = await open.page.evaluate(() =>
    (window as unknown as { axe: { run: () => Promise<AxeResults> } }).axe.run(),
  );
  return violations.flatMap(({ id, nodes }) => nodes.map(({ target }) => `${id}: ${target.join(" ")}`));
}

describe("every section", () => {
  it.each(SIZES)(
    "can be read by all on a $name in $colorScheme",
    async ({ name, colorScheme, viewport }) => {
      open = await openBenchPage({ colorScheme, viewport });
      const { page } = open;
      await page.getByRole("button", { name: "Open the sample job" }).waitFor();
      expect(await faultsOf()).toEqual([]);
      await page.getByRole("button", { name: "Open the sample job" }).click();
      // The sample's three attempts come one by one, without a reload.
      await page.getByRole("link", { name: /^Attempt 3/ }).waitFor({ timeout: 90_000 });
      for (const section of SECTIONS) {
        await page.getByRole("navigation", { name: "Sections of the job" }).getByText(section).click();
        if (section === "Answer") await page.locator(".board-canvas").waitFor();
        if (section === "Attempts") await page.locator(".attempt-card canvas").nth(2).waitFor();
        if (section === "Board") await page.getByRole("button", { name: "Save board" }).waitFor();
        expect({ section, faults: await faultsOf() }).toEqual({ section, faults: [] });
        const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
        expect({ section, beyond: Math.max(0, beyond) }).toEqual({ section, beyond: 0 });
        await keepShot(page, `${name}-${section.toLowerCase()}`);
      }
      expect(open.faults).toEqual([]);
    },
    240_000,
  );
});
