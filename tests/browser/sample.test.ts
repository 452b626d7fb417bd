// What the first visit shows in a minute: the sample's answer with labels and what is judged to be no heat, another
// rate of false alarms, and the attempts side by side with what was done between them; in Chromium on the real command.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type OpenBench, openBenchPage } from "./open-bench.js";
import { LONG } from "./patience.js";

let open: OpenBench;
beforeAll(async () => {
  open = await openBenchPage();
  const { page } = open;
  await page.getByRole("button", { name: "Open the sample job" }).click();
  // It comes by itself from here on, attempt by attempt.
  await page.getByRole("link", { name: /^Attempt 3/ }).waitFor();
  await page.getByRole("progressbar").waitFor({ state: "detached" });
});
afterAll(() => open?.close());

describe("the sample job", () => {
  it("labels what is suspected at the board's edge, with probability and watts, and says what is no heat", async () => {
    const { page } = open;
    await page.getByRole("link", { name: /^Attempt 1/ }).click();
    await page
      .locator(".verdict")
      .getByText(/^C6 is the source of the heat/)
      .waitFor();
    const label = page.locator(".board-marks .label", { hasText: "C6" });
    await expect.poll(() => label.textContent(), LONG).toMatch(/^C6.*> 99 %.*\d ± \d.* W$/);
    // The leader line begins at the part and ends beyond the board.
    const ends = await label.locator(".leader").getAttribute("points");
    expect(ends!.split(" ").length).toBeGreaterThanOrEqual(2);
    const letter = page.locator(".board-marks .artefact-letter").first();
    expect(await letter.textContent()).toBe("a");
    const noHeat = page.getByRole("region", { name: "Judged to be no heat" });
    await noHeat.getByText(/reflection.*SH1.*mirrors the room/).waitFor();
    // Watts are those of the frames and of what was fed in; those of the frames alone are said to be that.
    await page.getByText("Watts are by the frames and by what was fed in.").waitFor();
    await page.getByText(/By the frames alone the sources found amount to/).waitFor();
  });

  it("redraws at another rate of false alarms, and as before at that of the findings", async () => {
    const { page } = open;
    // Its source is faint enough for the rate to count: beside a strong one the faintest colour is a share of the peak.
    await page.getByRole("link", { name: /^Attempt 2/ }).click();
    await page.locator('.attempt-tabs [aria-current="page"]', { hasText: "Attempt 2" }).waitFor();
    const canvas = page.locator(".board-canvas");
    await canvas.waitFor();
    const painted = () => canvas.evaluate((element) => (element as HTMLCanvasElement).toDataURL());
    const before = await painted();
    const slider = page.getByRole("slider", { name: /^False alarms/ });
    await slider.press("End");
    await expect.poll(painted, LONG).not.toBe(before);
    await page.getByText(/^At this rate \d+ places? reach/).waitFor();
    await page.getByRole("button", { name: "As in the findings" }).click();
    await expect.poll(painted, LONG).toBe(before);
  });

  it("shows a picture in every frame of the screen while it goes from one attempt to another", async () => {
    const { page } = open;
    const { pictures } = await page
      .evaluateHandle(() => {
        const counts = { none: 0, some: 0 };
        const count = (): void => {
          counts[document.querySelector(".answer canvas") === null ? "none" : "some"]++;
          requestAnimationFrame(count);
        };
        requestAnimationFrame(count);
        return { pictures: counts };
      })
      .then(async (handle) => ({ pictures: await handle.getProperty("pictures") }));
    for (const number of [1, 2, 3, 1]) {
      await page.getByRole("link", { name: new RegExp(`^Attempt ${number}`) }).click();
      await page.locator('.attempt-tabs [aria-current="page"]', { hasText: `Attempt ${number}` }).waitFor();
      await page.locator(".board-canvas").waitFor();
    }
    const { none, some } = await pictures.jsonValue();
    expect(some).toBeGreaterThan(0);
    expect(none).toBe(0);
  });

  it("sets the attempts side by side, with what was done, what became of each part, and why", async () => {
    const { page } = open;
    await page.getByRole("navigation", { name: "Sections of the job" }).getByText("Attempts").click();
    await page.locator(".attempt-card canvas").nth(2).waitFor();
    // Of one size, whatever the camera saw.
    const sizes = await page
      .locator(".attempt-card canvas")
      .evaluateAll((all) => all.map((one) => `${one.clientWidth}×${one.clientHeight}`));
    expect(new Set(sizes).size).toBe(1);
    const between = page.locator(".change-list");
    await expect.poll(() => between.nth(0).textContent(), LONG).toMatch(/C6 still there/);
    await expect.poll(() => between.nth(1).textContent(), LONG).toMatch(/C6 replaced.*C6 gone.*U6 new/);
    await page
      .getByRole("article", { name: "Attempt 3" })
      .getByText("3.70 V × 0.198 A = 0.733 W into VSYS")
      .waitFor();
    // Why is there for keys and fingers, too.
    const [, second] = await page.getByText("Why, part by part").all();
    await second!.focus();
    await second!.press("Enter");
    await page.getByText(/^C6 gone, [\d.]+ W before\. The later attempt would have shown/).waitFor();
    expect(open.faults).toEqual([]);
  });
});
