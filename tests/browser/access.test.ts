// The accessibility checker axe finds nothing in any state of the page, in light and in dark, on a laptop, a tablet and
// a large screen; nothing reaches beyond the edge of the window.
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type { AxeResults } from "axe-core";
import { afterEach, describe, expect, it } from "vitest";
import { keepShot } from "./keep-shot.js";
import { type OpenBench, openBenchPage } from "./open-bench.js";
import { LONG } from "./patience.js";
import { samplePath } from "./sample-board.js";

const AXE = readFileSync(createRequire(import.meta.url).resolve("axe-core/axe.min.js"), "utf8");
const SCHEMES = ["light", "dark"] as const;
const SIZES = [
  { name: "laptop", viewport: { width: 1366, height: 768 } },
  { name: "large", viewport: { width: 3840, height: 2160 } },
  { name: "tablet", viewport: { width: 820, height: 1180 } },
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

/** What can be used and has something else lying over its middle. */
function coveredOf(): Promise<string[]> {
  return open.page.evaluate(() => {
    const covered: string[] = [];
    for (const one of document.querySelectorAll<HTMLElement>("a[href], button, input, select, summary")) {
      const style = getComputedStyle(one);
      if (!one.checkVisibility() || style.pointerEvents === "none" || one.closest(".hidden") !== null)
        continue;
      one.scrollIntoView({ block: "center", inline: "center" });
      const { left, top, width, height } = one.getBoundingClientRect();
      if (width < 2 || height < 2) continue;
      const over = document.elementFromPoint(left + width / 2, top + height / 2);
      // A picture that is pointed at lies over labels on purpose; a saying goes away by itself.
      if (over === null || over === one || one.contains(over) || over.closest(".said") !== null) continue;
      if (over.closest("label")?.contains(one) === true) continue;
      covered.push(`${one.outerHTML.slice(0, 90)} under ${over.outerHTML.slice(0, 90)}`);
    }
    scrollTo(0, 0);
    return covered;
  });
}

/** Look at the page as it is now, in light and in dark. */
async function look(size: string, state: string): Promise<void> {
  const { page } = open;
  for (const colorScheme of SCHEMES) {
    await page.emulateMedia({ colorScheme });
    await expect
      .poll(() => page.evaluate(() => document.documentElement.dataset["theme"]), LONG)
      .toBe(colorScheme);
    // What is painted anew is there after the second frame.
    await page.evaluate(
      () => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done))),
    );
    expect({ state, colorScheme, faults: await faultsOf() }).toEqual({ state, colorScheme, faults: [] });
    // Nothing is wider than the window, or than the box that it stands in.
    const beyond = await page.evaluate(() =>
      [document.documentElement, ...document.querySelectorAll("main *")].flatMap((one) => {
        const isPage = one === document.documentElement;
        const canScroll = ["auto", "scroll"].includes(getComputedStyle(one).overflowX);
        return (isPage || canScroll) && one.scrollWidth > one.clientWidth ? [one.outerHTML.slice(0, 90)] : [];
      }),
    );
    expect({ state, beyond }).toEqual({ state, beyond: [] });
    // And the page ends where what it shows does, or fills the window.
    const below = await page.evaluate(() => {
      const end = document.querySelector("main")!.getBoundingClientRect().bottom + scrollY;
      return document.documentElement.scrollHeight - Math.max(end, innerHeight);
    });
    // Heights are rounded to whole pixels.
    expect({ state, isLonger: below > 1 }).toEqual({ state, isLonger: false });
    await keepShot(page, `${size}-${state}-${colorScheme}`);
  }
  expect({ state, covered: await coveredOf() }).toEqual({ state, covered: [] });
}

describe("every state of the page", () => {
  it.each(SIZES)("can be read by all on a $name, in light and dark", async ({ name, viewport }) => {
    open = await openBenchPage({ viewport });
    const { page } = open;
    const button = (words: string | RegExp) => page.getByRole("button", { name: words, exact: true });
    const section = (words: string) =>
      page.getByRole("navigation", { name: "Sections of the job" }).getByText(words).click();
    await button("Open the sample job").waitFor(LONG);
    await look(name, "first-visit");

    // The sample's three attempts come one by one, without a reload.
    await button("Open the sample job").click();
    await page.getByRole("link", { name: /^Attempt 3/ }).waitFor(LONG);
    await section("Answer");
    await page.locator(".board-canvas").waitFor(LONG);
    await look(name, "answer");
    // A place that is pointed at, a profile, and all that can be unfolded.
    await page.locator(".cursor-layer").focus();
    for (const key of ["Enter", "Shift+ArrowRight", "Shift+ArrowDown", "Enter"])
      await page.keyboard.press(key);
    await page.getByRole("region", { name: "Profile line" }).waitFor(LONG);
    await unfold();
    await look(name, "answer-unfolded");
    await section("Attempts");
    await page.locator(".attempt-card canvas").nth(2).waitFor(LONG);
    // All three are in the window.
    const last = page.getByRole("article", { name: "Attempt 3" });
    const rightEdge = () => last.evaluate((card) => card.getBoundingClientRect().right);
    await expect.poll(rightEdge, LONG).toBeLessThanOrEqual(viewport.width);
    await unfold();
    await look(name, "attempts");
    await section("Readings");
    await page.getByLabel("Reading at VSYS").waitFor(LONG);
    await page.getByLabel("New place").fill("U6 1-3");
    await button("Add").click();
    await page.getByLabel("Reading at U6 pin 1").fill("0,001");
    await page.getByLabel("Reading at U6 pin 1").press("Enter");
    await page.getByLabel("Reading at U6 pin 2").fill("OL");
    await page.getByLabel("Reading at U6 pin 2").press("Enter");
    await page
      .getByRole("row", { name: /^U6 pin 2/ })
      .getByText("OL", { exact: true })
      .first()
      .waitFor(LONG);
    await look(name, "readings");
    await section("Board");
    await button("Save board").waitFor(LONG);
    await look(name, "drawing");
    await button("Fiducials").click();
    await page.locator('[data-pane="picture"]').waitFor(LONG);
    await look(name, "fiducials");
    await section("Report");
    await button("Make the report").click();
    await page.getByRole("link", { name: "Whole job as ZIP" }).waitFor(LONG);
    await look(name, "report");

    // Frames that came, one of which is none, and one that needs a scale.
    await section("Frames");
    await page.getByLabel("Files", { exact: true }).setInputFiles(
      ["attempt-1/baseline/frame-1.csv", "attempt-1/powered/frame-1.csv", "attempt-1/view-top.json"]
        .map(samplePath)
        .map((path) => ({
          name: path.endsWith("json") ? "view.json" : path.includes("powered") ? "warm.csv" : "cold.csv",
          mimeType: "text/plain",
          buffer: Buffer.concat([readFileSync(path), Buffer.from("\n")]),
        })),
    );
    await page.getByRole("table", { name: "Powered frames", exact: true }).waitFor(LONG);
    await page
      .getByLabel("Files", { exact: true })
      .setInputFiles([{ name: "notes.csv", mimeType: "text/plain", buffer: Buffer.from("no,frame\n") }]);
    await page.getByRole("region", { name: "Other files" }).getByText("notes.csv").waitFor(LONG);
    await page.locator(".frame-preview canvas").waitFor(LONG);
    await unfold();
    await look(name, "frames");
    await page
      .getByRole("link", { name: /^faultglow/ })
      .first()
      .click();
    await page.getByRole("heading", { name: "New job" }).waitFor(LONG);
    await look(name, "jobs");
    expect(open.faults.filter((fault) => !fault.includes("422"))).toEqual([]);
  });
});

/** Open all that is folded. */
async function unfold(): Promise<void> {
  await open.page.evaluate(() => {
    for (const details of document.querySelectorAll("details")) details.open = true;
  });
}

describe("the list of suspects", () => {
  it.each([1280, 1100, 390])("keeps to a window of %d px where watts have wide intervals", async (width) => {
    open = await openBenchPage({ viewport: { width, height: 900 } });
    const { page } = open;
    await page.getByRole("button", { name: "Open the sample job", exact: true }).click(LONG);
    await page.getByRole("link", { name: /^Attempt 3/ }).click(LONG);
    await page.locator(".suspects summary .watts").first().waitFor(LONG);
    const [widest, bars] = await page.evaluate(() => {
      for (const one of document.querySelectorAll(".suspects .watts")) one.textContent = "0.12 (0 to 0.24) W";
      for (const one of document.querySelectorAll(".suspects .chance")) one.textContent = "warm anyway";
      const lengths = [...document.querySelectorAll(".suspects .bar")].map((bar) => bar.clientWidth);
      return [document.documentElement.scrollWidth, new Set(lengths).size] as const;
    });
    expect(widest).toBeLessThanOrEqual(width);
    // Chances are compared by the lengths of their bars.
    expect(bars).toBe(1);
  });
});
