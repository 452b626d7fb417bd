// A burst of 250 frames of 640×512, dropped: the answer names the part that was made to heat. How long it takes until the
// first picture and until the answer, and how long the page was busy at a time, is measured and printed, not asserted.
import { mkdtempSync, rmSync } from "node:fs";
import { availableParallelism, loadavg, tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { beginJob, endJob, LONG, open } from "./job-driver.js";
import { cpuSeconds } from "./process-times.js";
import { SAMPLE_MAP } from "./sample-board.js";
import { BURST, BURST_VIEW, writeBurst } from "./write-burst.js";

const FRAMES = 250;

let folder: string;
let files: string[];
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-burst-"));
  files = writeBurst(folder, FRAMES);
});
afterAll(async () => {
  await endJob();
  rmSync(folder, { recursive: true, force: true });
});

declare global {
  interface Window {
    /** Moments of the page, ms after it began, and how long it was busy at a time (W3C Long Tasks: from 50 ms on). */
    moments: { dropped: number; picture: number; busy: number[] };
  }
}

const LATE_MS = 100;

/** Seconds of processor that the bench has had. */
const benchSeconds = (): number => cpuSeconds(open.bench().child.pid!) ?? Number.NaN;

describe("a burst of 250 frames", () => {
  it("is dropped, shown and answered", async () => {
    // The map lies in the job already: what is timed is the frames.
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    // The page's own clock: what the driver says takes its own time.
    await page.evaluate(() => {
      const moments = { dropped: 0, picture: 0, busy: [] as number[] };
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
        const canvas = document.querySelector<HTMLCanvasElement>(".frame-preview canvas");
        if (canvas !== null && canvas.width === 640) moments.picture = performance.now();
        else requestAnimationFrame(look);
      };
      requestAnimationFrame(look);
    });
    const before = benchSeconds();
    const view = {
      name: "view.json",
      mimeType: "application/json",
      buffer: Buffer.from(JSON.stringify(BURST_VIEW)),
    };
    await page.locator("#from-disk").setInputFiles(files);
    await page.evaluate(() => {
      const input = document.querySelector<HTMLInputElement>("#from-disk")!;
      const transfer = new DataTransfer();
      for (const file of input.files!) transfer.items.add(file);
      input.remove();
      window.moments.dropped = performance.now();
      dispatchEvent(new DragEvent("drop", { dataTransfer: transfer, bubbles: true, cancelable: true }));
    });
    await page.locator(".frame-preview canvas").waitFor(LONG);
    await page.getByLabel("Files", { exact: true }).setInputFiles(view);
    await page.getByText(new RegExp(`^${FRAMES} frames, `)).waitFor(LONG);
    await page.getByLabel("Frames per second").fill(String(BURST.rateHz));
    const analyse = page.getByRole("button", { name: "Analyse", exact: true });
    await page.getByRole("button", { name: "Use for baseline-1.png" }).click(LONG);
    await page.getByText("is placed on the board").first().waitFor(LONG);
    await expect.poll(() => analyse.isEnabled(), LONG).toBe(true);
    const ready = await page.evaluate(() => performance.now());
    const atReady = benchSeconds();
    await analyse.click();
    await page.locator(".board-canvas").waitFor(LONG);
    const answered = await page.evaluate(() => performance.now());
    const after = benchSeconds();
    expect(await page.locator(".verdict h2").textContent()).toContain("C6");
    const moments = await page.evaluate(() => window.moments);
    const s = (ms: number): string => `${(ms / 1000).toFixed(2)} s`;
    process.stdout.write(
      [
        `first picture ${s(moments.picture - moments.dropped)} after the drop`,
        `all ${FRAMES} frames kept and read after ${s(ready - moments.dropped)} (bench: ${(atReady - before).toFixed(1)} s of processor)`,
        `answer ${s(answered - ready)} after "Analyse" (bench: ${(after - atReady).toFixed(1)} s of processor)`,
        `tasks of the page over ${LATE_MS} ms: ${moments.busy.filter((ms) => ms > LATE_MS).length}, longest ${Math.max(0, ...moments.busy).toFixed(0)} ms`,
        `load of the machine ${loadavg()[0]!.toFixed(1)} on ${availableParallelism()} cores`,
        "",
      ].join("\n"),
    );
    expect(moments.picture).toBeGreaterThan(moments.dropped);
    expect(open.faults).toEqual([]);
  }, 400_000);
});
