// What was noted by mistake, taken back in Chromium on the real command: pressed twice, and where the focus is after
// it.
import { readFileSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import { beginJob, button, chooseFiles, endJob, open, section, table, textFile } from "./job-driver.js";
import { LONG } from "./patience.js";
import { SAMPLE_MAP, samplePath } from "./sample-board.js";

afterEach(endJob);

/** What has the focus, by what tells it from the others. */
const focused = () =>
  open.page.evaluate(() => {
    const { activeElement: at } = document;
    return at?.getAttribute("aria-label") ?? (at?.id || at?.textContent);
  });

async function noteAction(part: string): Promise<void> {
  await open.page.getByLabel("Part", { exact: true }).fill(part);
  await button("Note the action").click(LONG);
  await button(`Withdraw: ${part} replaced`).waitFor(LONG);
}

describe("Withdraw", () => {
  it("pressed twice takes one line back, and says which", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    await section("Readings");
    await noteAction("C6");
    let asked = 0;
    await page.route("**/api/jobs/*/said", async (route) => {
      asked += 1;
      await new Promise((resolve) => setTimeout(resolve, 300));
      await route.continue();
    });
    // Both before the page is drawn again: what a key that bounces does.
    await button("Withdraw: C6 replaced").evaluate((element: HTMLElement) => {
      element.click();
      element.click();
    });
    await page
      .getByText("Withdrawn: C6 replaced. It stays in the journal, and no longer counts.")
      .first()
      .waitFor(LONG);
    await expect.poll(() => button(/^Withdraw/).count(), LONG).toBe(0);
    expect(asked).toBe(1);
    expect(open.faults).toEqual([]);
  });

  it("leaves the focus at the list of actions, at the attempts, and at what is to be done once there is none", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    await section("Readings");
    await noteAction("C6");
    await noteAction("U6");
    await button("Withdraw: C6 replaced").click();
    await expect.poll(() => button("Withdraw: C6 replaced").count(), LONG).toBe(0);
    await expect.poll(focused, LONG).toBe("actions-title");

    for (const number of [1, 2]) {
      await section("Frames");
      const powered = readFileSync(samplePath("attempt-1/powered/frame-1.csv"), "utf8");
      // Other bytes: the same ones would be the same frame.
      await chooseFiles(textFile(`powered-${number}.csv`, powered + "\n".repeat(number)));
      if (number === 1) await chooseFiles(samplePath("attempt-1/baseline/frame-1.csv"));
      await table("Powered frames").waitFor(LONG);
      await table("Baseline frames").waitFor(LONG);
      await button("Analyse").click(LONG);
      await page.getByRole("link", { name: `Attempt ${number}` }).waitFor(LONG);
    }
    await section("Attempts");
    for (const [number, after] of [
      [1, "Attempts side by side"],
      [2, "Drop frames"],
    ] as const) {
      await button(`Withdraw: Attempt ${number}`).click(LONG);
      await button(`Yes, withdraw: Attempt ${number}`).click();
      await expect.poll(() => button(`Yes, withdraw: Attempt ${number}`).count(), LONG).toBe(0);
      await expect.poll(focused, LONG).toBe(after);
    }
    expect(open.faults).toEqual([]);
  });
});

describe("a pack", () => {
  it("without a report says so beside the zip, and what to do", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    // A sound job whose report can't be made is not to be had by a file: the answer of the task is played.
    const text =
      "The zip holds no report, for it can't be made: the frame on.csv reads otherwise. Take it from a copy.";
    await page.route("**/api/jobs/*/pack", (route) => {
      const job = /jobs\/([^/]+)/.exec(route.request().url())![1]!;
      const of = { id: "pack-1", kind: "pack", job, state: "done", text, done: 1, total: 1 };
      const task = { ...of, error: null, attempt: null, files: ["job.zip"] };
      return route.fulfill({ status: 202, json: { task } });
    });
    await section("Report");
    await button("Make the report").click();
    const zip = page.getByRole("listitem").filter({ has: page.getByRole("heading", { name: "Whole job" }) });
    await expect.poll(() => zip.locator(".chip.warn").textContent(), LONG).toBe(text);
    await page.getByRole("link", { name: "Whole job as ZIP" }).waitFor(LONG);
    // The reports were made by the server itself, and lack nothing.
    await page.getByRole("link", { name: "Repair report as HTML" }).waitFor(LONG);
    expect(await page.locator(".paper .chip.warn").count()).toBe(1);
    expect(open.faults).toEqual([]);
  });
});
