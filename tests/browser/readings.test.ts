// Readings pasted from a spreadsheet; good boards taken off what an attempt shows, or not: in Chromium on the real
// command.
import { readFileSync } from "node:fs";
import { afterEach, describe, expect, it } from "vitest";
import { beginJob, button, chooseFiles, endJob, open, section, table, textFile } from "./job-driver.js";
import { LONG } from "./patience.js";
import { SAMPLE_MAP, samplePath } from "./sample-board.js";

afterEach(endJob);

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
  });
});

describe("what was noted by mistake", () => {
  it("is taken back: a reading at once, its place staying to be read again, an attempt once it was asked", async () => {
    await beginJob(SAMPLE_MAP);
    const { page } = open;
    const focused = () =>
      page.evaluate(() => document.activeElement?.getAttribute("aria-label") ?? document.activeElement?.id);
    await section("Readings");
    await page.getByLabel("New place").fill("VSYS");
    await page.getByLabel("New place").press("Enter");
    await page.getByLabel("Reading at VSYS").fill("0.02");
    await page.getByLabel("Reading at VSYS").press("Enter");
    const row = page.getByRole("row", { name: /^VSYS / });
    await row.getByText("short to ground", { exact: true }).waitFor(LONG);
    // While references are filled in, the reading is not what is taken back.
    await page.getByLabel("Filling in").selectOption("reference");
    await expect.poll(() => row.getByRole("button", { name: /^Withdraw/ }).count(), LONG).toBe(0);
    await page.getByLabel("Filling in").selectOption("reading");
    await button("Withdraw: reading 0.020 V at VSYS").click(LONG);
    await expect.poll(() => row.getByText("short to ground").count(), LONG).toBe(0);
    await expect.poll(focused, LONG).toBe("Reading at VSYS");
    // Of three rows the first goes to the end without its reading, and the focus with it.
    for (const net of ["VBAT", "VCORE", "VSYS"]) {
      await page.getByLabel("New place").fill(net);
      await page.getByLabel("New place").press("Enter");
      await page.getByLabel(`Reading at ${net}`).fill("0.3");
      await page.getByLabel(`Reading at ${net}`).press("Enter");
      await button(`Withdraw: reading 0.300 V at ${net}`).waitFor(LONG);
    }
    await button("Withdraw: reading 0.300 V at VBAT").click(LONG);
    await expect.poll(() => button(/^Withdraw: reading/).count(), LONG).toBe(2);
    await expect.poll(focused, LONG).toBe("Reading at VBAT");

    await section("Frames");
    await chooseFiles(
      ["attempt-1/baseline/frame-1.csv", "attempt-1/powered/frame-1.csv"].map((name) =>
        textFile(name.replaceAll("/", "-"), readFileSync(samplePath(name), "utf8")),
      ),
    );
    await table("Powered frames").waitFor(LONG);
    await button("Analyse").click(LONG);
    await page.getByRole("link", { name: "Attempt 1" }).waitFor(LONG);
    await section("Attempts");
    await button("Withdraw: Attempt 1").click(LONG);
    await expect.poll(focused, LONG).toBe("Keep: Attempt 1");
    await button("Keep: Attempt 1").click();
    await expect.poll(focused, LONG).toBe("Withdraw: Attempt 1");
    await button("Withdraw: Attempt 1").click();
    await button("Yes, withdraw: Attempt 1").click();
    await page.getByText("There is no attempt yet.").waitFor(LONG);
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
  });
});
