// Frames pasted, dropped as a folder from the desk, and grey levels without a scale; decimal comma and °F; good boards taken
// off what an attempt shows, or not: in Chromium on the real command.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { greyPng } from "./grey-png.js";
import {
  beginJob,
  button,
  chooseFiles,
  endJob,
  jobFolder,
  LONG,
  open,
  section,
  table,
  textFile,
} from "./job-driver.js";
import { SAMPLE_MAP, samplePath } from "./sample-board.js";

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
    // So many are folded until somebody asks.
    await page.getByRole("region", { name: "Powered frames" }).locator("summary").click();
    // They come one by one as they are read: all twelve, and the row of titles.
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
    await expect.poll(() => asked).toEqual(["beforeunload"]);
    letGo();
    await table("Baseline frames")
      .getByRole("row", { name: /frame-1\.csv/ })
      .waitFor(LONG);
    // Now that it is there, nothing is asked.
    await page.reload();
    await table("Baseline frames").waitFor(LONG);
    expect(asked).toHaveLength(1);
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
    await expect.poll(() => page.getByLabel("Black is, °F").inputValue()).toBe("59.9");
    await expect.poll(() => page.getByLabel("White is, °F").inputValue()).toBe("104.9");
    // And back again as it was typed.
    await unit.selectOption("C");
    await expect.poll(() => low.inputValue()).toBe("15,5");
    // The server tells of files as they are read, and of the last scale when it is asked: that answer may come after the next form.
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
    await table("Baseline frames").getByText("15.5 … 40.0 °C").waitFor(LONG);
    for (let i = 0; i < rows.length; i++) rows[i]! += i % (1 + width) === 0 ? 0 : 1;
    const hotter = greyPng({ width, height, bits: 8 }, rows);
    await chooseFiles({ name: "hot.png", mimeType: "image/png", buffer: hotter });
    await low.waitFor(LONG);
    letGo();
    await page.getByText("these were the last ones used").waitFor(LONG);
    const offered = (label: string) => expect.poll(() => page.getByLabel(label).inputValue());
    await offered("Black is, °C").toBe("15.5");
    await offered("White is, °C").toBe("40.5");
    // A first picture is asked for before it is read; the browser itself notes that it could not be had without a scale.
    expect(open.faults.filter((fault) => !fault.includes("422"))).toEqual([]);
  });
});

describe("readings", () => {
  it("are pasted from a spreadsheet: a column from a cell down, and a table of places of its own", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    await page
      .context()
      .grantPermissions(["clipboard-read", "clipboard-write"], { origin: open.bench().home });
    // What a spreadsheet puts there: tabs between columns, a line for each row, one after the last.
    const pasteInto = async (label: string, text: string): Promise<void> => {
      await page.evaluate((words) => navigator.clipboard.writeText(words), text);
      await page.getByLabel(label).focus();
      await page.keyboard.press("Control+V");
    };
    await section("Readings");
    await page.getByLabel("New place").fill("U6 1-4");
    await page.getByLabel("New place").press("Enter");
    await pasteInto("Reading at U6 pin 2", "0,452\nOL\n0.003\n");
    const row = (place: string) => page.getByRole("row", { name: new RegExp(`^${place} `) });
    await row("U6 pin 2").getByText("0.452 V").first().waitFor(LONG);
    await row("U6 pin 3").getByText("OL").first().waitFor();
    await row("U6 pin 4").getByText("short to ground", { exact: true }).waitFor();
    // The first row lay above the cell.
    await expect.poll(() => row("U6 pin 1").getByRole("cell").nth(1).textContent(), LONG).toBe("–");
    // Places of their own, into a field that has none, by the good board's column: then the marks are held against it.
    await page.getByLabel("Filling in").selectOption("reference");
    await pasteInto("New place", "net\tvalue\nVSYS\t0.512\nVBAT\t0.498\n");
    await row("VSYS").getByText("0.512 V").waitFor(LONG);
    await page.getByLabel("Filling in").selectOption("reading");
    await pasteInto("Reading at VSYS", "0,511\nOL\n");
    await row("VBAT").getByText("open").first().waitFor(LONG);
    await row("VSYS").getByText("0.511 V").first().waitFor();
    // One value goes into the cell as it is, and only Enter notes it.
    await pasteInto("Reading at U6 pin 1", "0.39");
    await expect.poll(() => page.getByLabel("Reading at U6 pin 1").inputValue(), LONG).toBe("0.39");
    await page.keyboard.press("Enter");
    await row("U6 pin 1").getByText("0.390 V").first().waitFor(LONG);
    // What can't be understood is said, and nothing of it is taken.
    await pasteInto("Reading at U6 pin 1", "about half\n0.41\n");
    await page
      .getByText(/about half/)
      .first()
      .waitFor(LONG);
    await row("U6 pin 1").getByText("0.390 V").first().waitFor(LONG);
    expect(open.faults).toEqual([]);
  }, 240_000);
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
    await page.getByLabel("Volts").fill("0,90");
    await page.getByLabel("Amps").fill("0.278");
    await button("Analyse").click();
    await page.locator(".board-canvas").waitFor(LONG);
    await expect
      .poll(() => page.locator(".verdict h2").textContent(), LONG)
      .toMatch(/pixel \(\d+,\d, \d+,\d\)/);
    const attempt = JSON.parse(readFileSync(join(jobFolder(), "attempts/001/attempt.json"), "utf8"));
    expect(attempt.conditions).toMatchObject({ volts: 0.9, amps: 0.278 });
    expect(open.faults).toEqual([]);
  });
});

describe("good boards", () => {
  it("are taken off what an attempt shows, or not", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    const analyse = async (number: number, isGood: boolean): Promise<void> => {
      await section("Frames");
      // Other bytes each time: the same ones would be the same frame.
      const csv = readFileSync(samplePath("attempt-1/powered/frame-1.csv"), "utf8") + "\n".repeat(number);
      await chooseFiles(textFile(`powered-${number}.csv`, csv));
      await table("Powered frames").waitFor(LONG);
      const good = page.getByLabel("This is a good board, taken to know what is normal");
      await good.setChecked(isGood);
      await expect.poll(() => button("Analyse").isEnabled(), LONG).toBe(true);
      await button("Analyse").click();
      await page.getByRole("link", { name: `Attempt ${number}` }).waitFor(LONG);
    };
    await chooseFiles(["attempt-1/baseline/frame-1.csv", "attempt-1/view-top.json"].map(samplePath));
    await button(/^Use for /).click(LONG);
    await page.getByText("is placed on the board").first().waitFor();
    for (const [i, isGood] of [true, true, true, false, false].entries()) await analyse(i + 1, isGood);

    await section("Attempts");
    const said = page.locator(".join-words");
    await said.getByText("Attempt 4 to 5").waitFor(LONG);
    const withGood = await said.textContent();
    const toggle = page.getByLabel("Take off what good boards show");
    await expect.poll(() => toggle.isChecked(), LONG).toBe(true);
    await toggle.uncheck();
    await expect.poll(() => said.textContent(), LONG).not.toBe(withGood);
    await toggle.check();
    await expect.poll(() => said.textContent(), LONG).toBe(withGood);
    expect(open.faults).toEqual([]);
  }, 240_000);
});
