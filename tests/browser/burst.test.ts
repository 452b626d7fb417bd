// A burst of 250 frames of 640×512, dropped with its view: the answer names the part that was made to heat. How long it
// takes until the first picture and until the answer, and how long the page was busy at a time, is measured and
// printed, not asserted.
import { mkdtempSync, readdirSync, rmSync, watch, writeFileSync } from "node:fs";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { beginJob, button, endJob, jobFolder, open } from "./job-driver.js";
import { LONG } from "./patience.js";
import { cpuSeconds } from "./process-times.js";
import { SAMPLE_MAP } from "./sample-board.js";
import { BURST, BURST_VIEW, writeBurst } from "./write-burst.js";

const FRAMES = 250;

let folder: string;
let files: string[];
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-burst-"));
  const view = join(folder, "view.json");
  files = [...writeBurst(folder, FRAMES), view];
  writeFileSync(view, JSON.stringify(BURST_VIEW));
});
afterEach(endJob);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

declare global {
  interface Window {
    /** Moments of the page, ms after it began, and how long it was busy at a time (W3C Long Tasks: from 50 ms on). */
    moments: { dropped: number; picture: number; ready: number; answer: number; busy: number[] };
  }
}

const LATE_MS = 100;

/** Seconds of processor that the bench has had. */
const benchSeconds = (): number => cpuSeconds(open.bench().child.pid!) ?? Number.NaN;

const seconds = (ms: number): string => `${(ms / 1000).toFixed(2)} s`;
const clock = (): Promise<number> => open.page.evaluate(() => performance.now());

/** Drop the burst on a job, and say meanwhile what is to be said of it.
 *  @returns the seconds of processor that the bench took until all was read. */
async function dropBurst(): Promise<number> {
  const { page } = open;
  // The page's own clock: what the driver says takes its own time.
  await page.evaluate(() => {
    const moments = { dropped: 0, picture: 0, ready: 0, answer: 0, busy: [] as number[] };
    Object.assign(window, { moments });
    new PerformanceObserver((list) => {
      for (const { duration, startTime } of list.getEntries())
        if (moments.dropped > 0 && startTime > moments.dropped) moments.busy.push(duration);
    }).observe({ type: "longtask", buffered: false });
    const input = document.createElement("input");
    input.type = "file";
    input.multiple = true;
    input.id = "from-disk";
    document.body.append(input);
    const look = (): void => {
      const now = performance.now();
      const canvas = document.querySelector<HTMLCanvasElement>(".frame-preview canvas");
      if (moments.picture === 0 && canvas?.width === 640) moments.picture = now;
      const analyse = document.querySelector<HTMLButtonElement>(".analyse-bar button.primary");
      if (moments.ready === 0 && moments.picture > 0 && analyse?.disabled === false) moments.ready = now;
      // It is there one frame after it was first laid out.
      if (document.querySelector(".board-canvas") === null) requestAnimationFrame(look);
      else
        requestAnimationFrame(() => {
          moments.answer = performance.now();
        });
    };
    requestAnimationFrame(look);
  });
  await page.locator("#from-disk").setInputFiles(files);
  const before = benchSeconds();
  await page.evaluate(() => {
    const input = document.querySelector<HTMLInputElement>("#from-disk")!;
    const transfer = new DataTransfer();
    for (const file of input.files!) transfer.items.add(file);
    input.remove();
    window.moments.dropped = performance.now();
    dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true }));
  });
  await page.locator(".frame-preview canvas").waitFor(LONG);
  await page.getByLabel("Frames per second").fill(String(BURST.rateHz), LONG);
  await button("Use for baseline-1.png").click(LONG);
  await page.getByText("is placed on the board").first().waitFor(LONG);
  await page.getByText(new RegExp(`^${FRAMES} frames, `)).waitFor(LONG);
  await page.waitForFunction(
    () => document.querySelector<HTMLButtonElement>(".analyse-bar button.primary")?.disabled === false,
    undefined,
    LONG,
  );
  return benchSeconds() - before;
}

/** Press "Analyse", and wait for the picture of the answer. */
async function pressAnalyse(): Promise<void> {
  await button("Analyse").click();
  await open.page.locator(".board-canvas").waitFor(LONG);
  await expect.poll(() => open.page.locator(".verdict h2").textContent(), LONG).toContain("C6");
  // What the sources make is there on request for a camera of any size.
  await open.page.getByRole("combobox", { name: "Colour", exact: true }).selectOption("modelled");
  expect(open.faults).toEqual([]);
}

function print(...lines: readonly string[]): void {
  const load = `load of the machine ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} cores`;
  process.stdout.write([...lines, load, ""].join("\n"));
}

describe("a burst of 250 frames", () => {
  it("is dropped, shown and answered", async () => {
    // The map lies in the job already: what is timed is the frames.
    await beginJob(SAMPLE_MAP);
    const usedS = await dropBurst();
    const atReady = benchSeconds();
    await pressAnalyse();
    const after = benchSeconds();
    const { dropped, picture, ready, answer, busy } = await open.page.evaluate(() => window.moments);
    print(
      `first picture ${seconds(picture - dropped)} after the drop`,
      `all ${FRAMES} frames kept and read after ${seconds(ready - dropped)} (bench: ${usedS.toFixed(1)} s of processor)`,
      `answer ${seconds(answer - ready)} after that, "Analyse" pressed at once (bench: ${(after - atReady).toFixed(1)} s of processor)`,
      `answer ${seconds(answer - dropped)} after the drop`,
      `tasks of the page over ${LATE_MS} ms: ${busy.filter((ms) => ms > LATE_MS).length}, longest ${Math.max(0, ...busy).toFixed(0)} ms`,
    );
    expect(picture).toBeGreaterThan(dropped);
    expect(answer).toBeGreaterThan(ready);
  });

  it("is analysed by itself once nothing is open, and the answer is there when it is asked for", async () => {
    await beginJob(SAMPLE_MAP);
    // What an attempt is made ready in lies in the job's folder for as long as that takes: who looks now and then may
    // miss it.
    let hasBegun = false;
    const watcher = watch(jobFolder(), (_, name) => {
      hasBegun ||= /adding/.test(name ?? "");
    });
    await dropBurst();
    const dropped = await open.page.evaluate(() => window.moments.dropped);
    await expect.poll(() => hasBegun, LONG).toBe(true);
    watcher.close();
    const isAtWork = (): boolean => readdirSync(jobFolder()).some((name) => /adding/.test(name));
    await expect.poll(isAtWork, { ...LONG, interval: 20 }).toBe(false);
    const analysed = await clock();
    const before = benchSeconds();
    const pressed = await clock();
    await pressAnalyse();
    const { answer } = await open.page.evaluate(() => window.moments);
    print(
      `analysed by itself ${seconds(analysed - dropped)} after the drop`,
      `answer ${seconds(answer - pressed)} after "Analyse" then (bench: ${(benchSeconds() - before).toFixed(1)} s of processor)`,
    );
  });
});
