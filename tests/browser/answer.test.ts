// What the page says where something is wrong or nothing is hot, work that is stopped, and the rise as the sources make
// it: in Chromium on the real command.
import { execFile } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import type { Page } from "playwright-core";
import { afterEach, describe, expect, it } from "vitest";
import { makeRandom } from "../simulate/random.js";
import { PROJECT } from "../structure/project.js";
import { beginJob, button, chooseFiles, endJob, open, section, table, textFile } from "./job-driver.js";
import { type OpenBench, openBenchPage } from "./open-bench.js";
import { LONG } from "./patience.js";
import { PARTS, SIZE_MM, samplePath } from "./sample-board.js";
import { stillBox } from "./still-box.js";

const COLD = readFileSync(samplePath("attempt-1/baseline/frame-1.csv"), "utf8");

/** Every other reading of every other row: a frame of another camera. */
function halved(csv: string): string {
  const rows = csv.trim().split(/\r?\n/);
  return rows
    .filter((_, y) => y % 2 === 0)
    .map((row) =>
      row
        .split(",")
        .filter((_, x) => x % 2 === 0)
        .join(","),
    )
    .join("\n");
}

const MIDDLE_OF_C6 = middleOf("C6");

function middleOf(ref: string): [number, number] {
  const { from, to } = PARTS.find((part) => part.ref === ref)!;
  return [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2];
}

/** Where a place of the sample's board is on the screen, mm to px: the picture shows the board with a margin of 4 % of
 *  its longer side (src/page/board/make-stage.ts). */
async function onBoard(page: Page, [x, y]: readonly [number, number]): Promise<[number, number]> {
  const box = await stillBox(page.locator(".board-canvas"));
  const margin = 0.04 * Math.max(...SIZE_MM);
  const pxPerMm = box.width / (SIZE_MM[0] + 2 * margin);
  return [box.x + (x + margin) * pxPerMm, box.y + (y + margin) * pxPerMm];
}

describe("wrong frames", () => {
  afterEach(endJob);

  it("are said to be wrong where they lie, and nothing can be analysed with them", async () => {
    await beginJob();
    const { page } = open;
    await chooseFiles([
      textFile("off.csv", COLD),
      // Cut inside a row: a cut at the end of one can't be seen.
      textFile("on-torn.csv", COLD.slice(0, COLD.indexOf("\n", COLD.length / 2) + 40)),
      textFile("on-small.csv", halved(COLD)),
      textFile("notes.txt", "VSYS reads 3 ohm\nC6 was changed\n"),
    ]);
    const files = page.getByRole("region", { name: "Other files" });
    await files.getByText("on-torn.csv").waitFor(LONG);
    // The row and the place in it at which the file breaks off; what to do.
    await files.getByText(/this one has \d+.*line \d+.*Export the frame again/).waitFor(LONG);
    await files.getByText(/A matrix of at least 2 × 2 numbers was expected/).waitFor(LONG);
    await table("Powered frames")
      .getByRole("row", { name: /on-small\.csv/ })
      .waitFor(LONG);
    await page.getByText(/on-small\.csv is 80×60 pixels; off\.csv is 160×120\./).waitFor(LONG);
    await expect.poll(() => button("Analyse").isDisabled(), LONG).toBe(true);
    // The page may ask for the picture of a file before it has been read: of one that is no frame there is none (422).
    expect(open.faults.filter((fault) => !fault.includes("status of 422"))).toEqual([]);
  });

  it("that show nothing hot are an answer too, with the smallest rise that would have been seen", async () => {
    await beginJob();
    const { page } = open;
    // The same scene under noise of its own, and nothing else.
    const random = makeRandom("nothing is hot");
    const noisy = COLD.trim()
      .split(/\r?\n/)
      .map((row) =>
        row
          .split(",")
          .map((value) => (Number(value) + 0.05 * random.normal()).toFixed(3))
          .join(","),
      );
    await chooseFiles([textFile("off.csv", COLD), textFile("on.csv", noisy.join("\n"))]);
    await table("Powered frames")
      .getByRole("row", { name: /on\.csv/ })
      .waitFor(LONG);
    await button("Analyse").click(LONG);
    await page
      .getByRole("heading", { name: /^Nothing on the board warmed by more than [\d.]+ K/ })
      .waitFor(LONG);
    await page.getByText("Next:").first().waitFor();
    // An address of an attempt that the job does not have says so, and leads to those that it has.
    await page.evaluate(() => {
      location.hash = location.hash.replace(/[^/]*$/, "7");
    });
    await page.getByText("This job has no attempt 7.").waitFor();
    await page.getByRole("link", { name: /^Attempt 1/ }).click();
    await page.locator(".board-canvas").waitFor();
    expect(open.faults).toEqual([]);
  });
});

describe("wrong words", () => {
  afterEach(endJob);

  it("are said to be wrong with what to do, and no longer once somebody goes on", async () => {
    await beginJob();
    const { page } = open;
    await chooseFiles([textFile("off.csv", COLD), textFile("on.csv", `${COLD}\n`)]);
    await page.getByLabel("Amps").fill("a lot");
    await button("Analyse").click();
    const said = page.getByRole("alert");
    await said.getByText("Amps is not a number above 0. Write it like 0.9 or 0,9").waitFor();
    // The hand is where it has to be mended.
    await expect.poll(() => page.evaluate(() => document.activeElement?.getAttribute("name"))).toBe("amps");
    await section("Readings");
    await expect.poll(() => said.textContent()).toBe("");
    // A place that was mistyped can be taken back; one that was read cannot.
    const place = page.getByLabel("New place");
    await place.fill("U6 1-2");
    await place.press("Enter");
    await page.getByLabel("Reading at U6 pin 1").fill("zero");
    await page.getByLabel("Reading at U6 pin 1").press("Enter");
    await said.getByText(/^"zero" is no reading in diode mode .* Write it like/).waitFor();
    await page.getByLabel("Reading at U6 pin 1").fill("0.41");
    await page.getByLabel("Reading at U6 pin 1").press("Enter");
    await page
      .getByRole("row", { name: /^U6 pin 1/ })
      .getByText("0.410 V", { exact: true })
      .first()
      .waitFor();
    await button("Take off the list: U6 pin 2").click();
    await expect.poll(() => page.getByRole("button", { name: /^Take off the list/ }).count()).toBe(0);
    await page.reload();
    await page.getByLabel("Reading at U6 pin 1").waitFor();
    await expect.poll(() => page.getByLabel(/^Reading at/).count()).toBe(1);
    expect(open.faults).toEqual([]);
  });
});

describe("the sample job", () => {
  let bench: OpenBench;
  afterEach(() => bench.close());

  it("is stopped by a button while it is made, and is sound all the same", async () => {
    bench = await openBenchPage();
    const { page, jobs } = bench;
    await page.getByRole("button", { name: "Open the sample job" }).click();
    const progress = page.getByRole("progressbar", { name: "Sample job" });
    await progress.waitFor(LONG);
    await page.getByRole("button", { name: "Stop", exact: true }).click();
    await progress.waitFor({ state: "detached", ...LONG });
    const [folder] = readdirSync(jobs).filter((name) => !name.startsWith("."));
    const { stdout } = await promisify(execFile)(process.execPath, [
      ...[join(PROJECT, "bin/faultglow.js"), "job", "check", join(jobs, folder!)],
    ]);
    expect(stdout).toContain("is sound");
    expect(bench.faults).toEqual([]);
  });

  it("shows the rise as measured, as the sources make it, and what they leave", async () => {
    bench = await openBenchPage();
    const { page } = bench;
    await page.getByRole("button", { name: "Open the sample job" }).click();
    await page.getByRole("link", { name: /^Attempt 1/ }).click(LONG);
    const canvas = page.locator(".board-canvas");
    await canvas.waitFor(LONG);
    const painted = () => canvas.evaluate((element) => (element as HTMLCanvasElement).toDataURL());
    const seen = new Set([await painted()]);
    for (const layer of ["modelled", "left"]) {
      await page.getByRole("combobox", { name: "Colour", exact: true }).selectOption(layer);
      await expect.poll(async () => seen.has(await painted()), LONG).toBe(false);
      seen.add(await painted());
    }
    // Three pictures, each unlike the others; the first comes back as it was.
    expect(seen.size).toBe(3);
    await page.getByRole("combobox", { name: "Colour", exact: true }).selectOption("rise");
    await expect.poll(painted, LONG).toBe([...seen][0]);

    // Pointed at, a place tells its part, millimetres, temperature and rise; dragged over, the rise along the line; on
    // a burst a click tells the time course of what lies there.
    await page.mouse.move(...(await onBoard(page, MIDDLE_OF_C6)));
    const readout = page.locator(".readout");
    await expect
      .poll(() => readout.textContent(), LONG)
      .toMatch(
        /^C6.* · \d+\.\d, \d+\.\d mm · baseline \d+\.\d+ °C · rise \d+\.\d+ K · \d+ σ above its surroundings$/,
      );
    await page.mouse.down();
    await page.mouse.move(...(await onBoard(page, [50, 17])), { steps: 4 });
    await page.mouse.up();
    await page
      .getByRole("region", { name: "Profile line" })
      .getByText(/^Rise along \d+\.\d mm/)
      .waitFor(LONG);
    // What else becomes of the job does not take the picture from under the pointer.
    await page.getByRole("link", { name: /^Attempt 3/ }).waitFor(LONG);
    const shown = await canvas.elementHandle();
    const noted = page.getByRole("link", { name: /^Readings & actions/ });
    const before = await noted.textContent();
    const status = await page.evaluate(async () => {
      const id = /jobs\/([^/]+)/.exec(location.hash)![1];
      const reading = { net: "VSYS", measure: "diode", value: 0.41, overRange: false, raw: "0.41" };
      const body = JSON.stringify({ said: [{ type: "reading", reading }] });
      const headers = { "Content-Type": "application/json" };
      return (await fetch(`/api/jobs/${id}/said`, { method: "POST", headers, body })).status;
    });
    expect(status).toBe(201);
    await expect.poll(() => noted.textContent(), LONG).not.toBe(before);
    expect(await shown!.evaluate((element) => element.isConnected)).toBe(true);
    await page.getByRole("link", { name: /^Attempt 2/ }).click();
    // The second attempt's own picture: the first one's is there until the address was followed.
    await page.locator('.attempt-tabs [aria-current="page"]', { hasText: "Attempt 2" }).waitFor(LONG);
    await canvas.waitFor(LONG);
    await page.mouse.click(...(await onBoard(page, MIDDLE_OF_C6)));
    const course = page.getByRole("region", { name: "Time course" });
    await course.getByRole("heading", { name: /^Time course at C6/ }).waitFor(LONG);
    await course.getByRole("img").waitFor(LONG);
    expect(bench.faults).toEqual([]);
  });
});
