// Frames pasted, dropped as a folder from the desk, and grey levels without a scale; decimal comma and °F: in Chromium
// on the real command.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { greyPng } from "./grey-png.js";
import { beginJob, button, chooseFiles, endJob, jobFolder, open, table } from "./job-driver.js";
import { LONG } from "./patience.js";
import { samplePath } from "./sample-board.js";

afterEach(endJob);

describe("frames", () => {
  it("are pasted, and a folder is dropped from the desk", async () => {
    await beginJob();
    const { page } = open;
    await page.evaluate(
      (csv) => {
        const clipboardData = new DataTransfer();
        clipboardData.items.add(new File([csv], "cold.csv", { type: "text/csv" }));
        dispatchEvent(new ClipboardEvent("paste", { clipboardData, bubbles: true, cancelable: true }));
      },
      readFileSync(samplePath("attempt-1/baseline/frame-1.csv"), "utf8"),
    );
    await table("Baseline frames")
      .getByRole("row", { name: /cold\.csv/ })
      .waitFor(LONG);

    // What the system hands to a browser when a folder is let go over its window: names of the disk, no contents.
    const session = await page.context().newCDPSession(page);
    const data = { items: [], files: [samplePath("attempt-2")], dragOperationsMask: 1 };
    for (const type of ["dragEnter", "dragOver", "drop"] as const)
      await session.send("Input.dispatchDragEvent", { type, x: 300, y: 300, data });
    await page.getByText("a burst, in this order").waitFor(LONG);
    // So many are folded until somebody asks; they come one by one as they are read.
    const powered = page.getByRole("region", { name: "Powered frames" });
    await powered.getByText(/^12 frames, /).click(LONG);
    // All twelve, and the row of titles.
    const listed = table("Powered frames").getByRole("row");
    await expect.poll(() => listed.count(), LONG).toBe(13);
    const rows = await listed.allTextContents();
    const shown = rows.slice(1).map((row) => /frame-\d+\.png/.exec(row)?.[0]);
    // In the order of the numbers in their names, each with the folder it lay in.
    expect(shown).toEqual(shown.map((_, i) => `frame-${i + 1}.png`));
    expect(rows[1]).toContain("in attempt-2/powered");
    expect(open.faults).toEqual([]);
  });

  it("are not lost by leaving the page before they are sent: the browser asks first", async () => {
    await beginJob();
    const { page } = open;
    let letGo = (): void => {};
    const isLetGo = new Promise<void>((done) => {
      letGo = done;
    });
    await page.route(/\/inbox\?/, async (route) => {
      await isLetGo;
      await route.continue();
    });
    const asked: string[] = [];
    page.on("dialog", async (dialog) => {
      asked.push(dialog.type());
      await dialog.dismiss();
    });
    await chooseFiles(samplePath("attempt-1/baseline/frame-1.csv"));
    await page.getByRole("progressbar").first().waitFor(LONG);
    await page.evaluate(() => {
      setTimeout(() => location.reload());
    });
    await expect.poll(() => asked, LONG).toEqual(["beforeunload"]);
    letGo();
    await table("Baseline frames")
      .getByRole("row", { name: /frame-1\.csv/ })
      .waitFor(LONG);
    // Now that it is there, nothing is asked. The server tells of a file before its sending has been answered.
    await page.getByText("Sending files").waitFor({ state: "detached", ...LONG });
    await page.reload();
    await table("Baseline frames").waitFor(LONG);
    expect(asked).toHaveLength(1);
    expect(open.faults).toEqual([]);
  });

  it("keep what was typed about them, though the page is loaded anew before the server has it", async () => {
    await beginJob();
    const { page } = open;
    await chooseFiles(samplePath("attempt-1/baseline/frame-1.csv"));
    await page.getByLabel("Volts").fill("1,8");
    await page.getByLabel("Rail that was fed").fill("VSYS");
    // A server that is slow: what is sent arrives after the next page has asked.
    await page.route(/\/drafts\/conditions$/, async (route) => {
      if (route.request().method() === "PUT") await new Promise((done) => setTimeout(done, 3000));
      await route.continue();
    });
    await page.getByLabel("Amps").fill("0,35");
    await page.getByText("Sending files").waitFor({ state: "detached" });
    await page.reload();
    for (const [label, text] of [
      ["Volts", "1,8"],
      ["Rail that was fed", "VSYS"],
      ["Amps", "0,35"],
    ] as const)
      await expect.poll(() => page.getByLabel(label).inputValue(), LONG).toBe(text);
    expect(open.faults).toEqual([]);
  });

  it("ask for a scale where grey levels come without one, and keep it for the next", async () => {
    await beginJob();
    const { page } = open;
    const [width, height] = [31, 17];
    const rows = Buffer.alloc(height * (1 + width));
    for (let i = 0; i < rows.length; i++) rows[i] = i % (1 + width) === 0 ? 0 : (7 * i) % 251;
    const png = greyPng({ width, height, bits: 8 }, rows);
    await chooseFiles({ name: "cold.png", mimeType: "image/png", buffer: png });
    const low = page.getByLabel("Black is, °C");
    await low.waitFor(LONG);
    await low.fill("15,5");
    await page.getByLabel("White is, °C").fill("40.5");
    // In the other unit it is the same temperature: 59.9 and 104.9 °F (NIST SP 811, B.8: °F = 1.8 · °C + 32).
    const unit = page.getByLabel("Unit of temperatures");
    await unit.selectOption("F");
    await expect.poll(() => page.getByLabel("Black is, °F").inputValue(), LONG).toBe("59.9");
    await expect.poll(() => page.getByLabel("White is, °F").inputValue(), LONG).toBe("104.9");
    // And back again as it was typed.
    await unit.selectOption("C");
    await expect.poll(() => low.inputValue()).toBe("15,5");
    // The server tells of files as they are read, and of the last scale when it is asked: that answer may come after
    // the next form.
    let letGo = (): void => {};
    const isShown = new Promise<void>((done) => {
      letGo = done;
    });
    await page.route(/\/inbox$/, async (route) => {
      if (route.request().method() === "GET") await isShown;
      await route.continue();
    });
    await page.getByLabel("White is, °C").press("Enter");
    // Level 0 and level 250 of 255 between 15.5 and 40.5 °C.
    // A page that asks anew before it shows them would wait for this test, as the test waits for the page.
    const notForever = async (shown: Promise<void>): Promise<void> => {
      const impatient = setTimeout(() => letGo(), 20_000);
      await shown;
      clearTimeout(impatient);
    };
    await notForever(table("Baseline frames").getByText("15.5 … 40.0 °C").waitFor(LONG));
    for (let i = 0; i < rows.length; i++) rows[i]! += i % (1 + width) === 0 ? 0 : 1;
    const hotter = greyPng({ width, height, bits: 8 }, rows);
    await chooseFiles({ name: "hot.png", mimeType: "image/png", buffer: hotter });
    await notForever(low.waitFor(LONG));
    letGo();
    await page.getByText("these were the last ones used").waitFor(LONG);
    const offered = (label: string) => expect.poll(() => page.getByLabel(label).inputValue());
    await offered("Black is, °C").toBe("15.5");
    await offered("White is, °C").toBe("40.5");
    // A first picture is asked for before it is read; the browser itself notes that it could not be had without a
    // scale.
    expect(open.faults.filter((fault) => !fault.includes("422"))).toEqual([]);
  });
});

describe("numbers", () => {
  it("stand with a comma and in °F where that is wanted, also after a reload", async () => {
    await beginJob();
    const { page } = open;
    await chooseFiles(["attempt-1/baseline/frame-1.csv", "attempt-1/powered/frame-1.csv"].map(samplePath));
    // −20.0 and 26.56 °C: −4.0 and 79.81 °F (NIST SP 811, B.8: °F = 1.8 · °C + 32).
    await table("Baseline frames").getByText("−20.0 … 26.6 °C").waitFor(LONG);
    await page.getByLabel("Unit of temperatures").selectOption("F");
    await page.getByLabel("Decimal mark").selectOption(",");
    await table("Baseline frames").getByText("−4,0 … 79,8 °F").waitFor();
    // A difference is a difference: its unit does not change with the zero.
    await expect
      .poll(() => table("Baseline frames").getByRole("row").nth(1).textContent(), LONG)
      .toMatch(/0,\d+ K/);
    await page.reload();
    await table("Baseline frames").getByText("−4,0 … 79,8 °F").waitFor();
    // Where an answer is looked for, frames that wait for their analysis are not asked for again.
    await page.getByRole("link", { name: "Answer", exact: true }).click();
    await page.getByRole("link", { name: "Analyse the frames that were dropped" }).click();
    await page.getByLabel("Volts").fill("0,90");
    await page.getByLabel("Amps").fill("0.213");
    await page.getByLabel("Seconds since power-on").fill("20,5");
    await button("Analyse").click();
    await page.locator(".board-canvas").waitFor(LONG);
    await expect
      .poll(() => page.locator(".verdict h2").textContent(), LONG)
      .toMatch(/pixel \(\d+,\d, \d+,\d\)/);
    const attempt = JSON.parse(readFileSync(join(jobFolder(), "attempts/001/attempt.json"), "utf8"));
    expect(attempt.conditions).toMatchObject({ volts: 0.9, amps: 0.213 });
    expect(attempt.options).toMatchObject({ afterS: 20.5 });
    await page
      .getByRole("link", { name: /^Attempts/ })
      .first()
      .click({ timeout: 20_000 });
    await page.getByRole("article", { name: "Attempt 1" }).getByText("20,5 s after power-on").waitFor();
    expect(open.faults).toEqual([]);
  });
});
