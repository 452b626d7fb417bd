// The whole job in Chromium on the real command, by mouse and again by keyboard: new job, frames, board, answer, second
// attempt, comparison, readings, report; with a reload and a killed bench in between.
import { execFile } from "node:child_process";
import { readdirSync, readFileSync, rmSync } from "node:fs";
import { basename, join } from "node:path";
import { promisify } from "node:util";
import type { Download } from "playwright-core";
import { afterEach, describe, expect, it } from "vitest";
import type { Findings } from "../../src/findings/findings-schema.js";
import { PROJECT } from "../structure/project.js";
import { expectReport } from "./expect-report.js";
import { keyboardOf } from "./keyboard.js";
import { type OpenBench, openBenchPage } from "./open-bench.js";
import { panePoint } from "./pane-points.js";
import { LONG } from "./patience.js";
import { CORNERS_PX, PARTS, SIZE_MM, samplePath } from "./sample-board.js";

let open: OpenBench;
afterEach(() => open?.close());

const FRAME_PX = [160, 120] as const;

/** Folder of the only job. */
function jobFolder(): string {
  const [name] = readdirSync(open.jobs).filter((entry) => entry.includes("soil"));
  return join(open.jobs, name!);
}

/** Run `find --json` on the frames that the job kept, with the map and the view that were drawn. */
async function findAgain(): Promise<Findings> {
  const folder = jobFolder();
  const attempt = JSON.parse(readFileSync(join(folder, "attempts/001/attempt.json"), "utf8"));
  const [view] = attempt.views;
  const kept = (file: { sha256: string; ending: string }) =>
    join(folder, "frames", `${file.sha256}${file.ending}`);
  const { stdout } = await promisify(execFile)(
    process.execPath,
    [
      join(PROJECT, "bin/faultglow.js"),
      "find",
      ...["--baseline", ...view.baseline.map(kept), "--powered", ...view.powered.map(kept)],
      ...["--board", join(folder, "boards", `${attempt.board.sha256}.json`)],
      ...["--view", join(folder, "views", `${view.view.sha256}.json`)],
      ...["--volts", "0.9", "--amps", "0.278", "--json", "--out", join(open.jobs, "again")],
    ],
    { maxBuffer: 1e8 },
  );
  return JSON.parse(stdout) as Findings;
}

/** The page shows what `find --json` prints, to the last digit. */
async function expectSameAsFind(): Promise<void> {
  const findings = await findAgain();
  const shown = await open.page.locator(".suspects li").evaluateAll((items) =>
    items.map((item) => ({
      ref: item.querySelector(".ref")?.textContent,
      probability: item.querySelector<HTMLDataElement>("data.chance")?.value,
      powerW: item.querySelector<HTMLDataElement>("data.watts")?.value,
    })),
  );
  const told = findings.suspects.filter(({ probability, powerW }) => probability >= 0.01 || powerW !== null);
  expect(told.length).toBeGreaterThan(0);
  expect(shown.slice(0, told.length)).toEqual(
    told.map(({ ref, probability, powerW }) => ({
      ref,
      probability: String(probability),
      powerW: powerW === null ? "" : String(powerW),
    })),
  );
  const shownNow = (selector: string) => expect.poll(() => open.page.locator(selector).textContent(), LONG);
  await shownNow(".verdict h2").toBe(findings.verdict);
  await shownNow(".verdict .next").toBe(`Next: ${findings.nextStep}`);
  await expect
    .poll(() => open.page.locator(".suspects .rest data").getAttribute("value"), LONG)
    .toBe(String(findings.unexplained));
  // What the page shows is worded from these.
  const held = await open.page.evaluate(async () => {
    const id = /jobs\/([^/]+)/.exec(location.hash)![1];
    return (await (await fetch(`/api/jobs/${id}`)).json()).attempts[0].findings;
  });
  for (const key of MEASURED) expect({ [key]: held[key] }).toEqual({ [key]: findings[key] });
}

/** Everything but the names of files and of the board. */
const MEASURED = [
  ...["alignment", "noise", "threshold", "hotspots", "suspects", "artefacts"],
  ...["unexplained", "verdict", "nextStep", "parts"],
] as (keyof Findings)[];

/** Keep a download; gives its path. */
async function saved(download: Download, name: string): Promise<string> {
  const path = join(open.jobs, name);
  await download.saveAs(path);
  return path;
}

describe("the whole job", () => {
  it("goes by mouse, and loses nothing by a reload and a killed bench", async () => {
    open = await openBenchPage();
    const { page } = open;
    const button = (name: string | RegExp) => page.getByRole("button", { name, exact: true });
    const section = (name: string) =>
      page.getByRole("navigation", { name: "Sections of the job" }).getByText(name);

    await page.getByLabel("Device").fill("soil meter");
    await page.getByLabel("Complaint").fill("does not start");
    await button("Begin the job").click();

    // The baseline is dropped, the powered frame chosen.
    await page.getByText("Drop the frames here").waitFor();
    const dropped = await page.evaluateHandle(
      (text) => {
        const transfer = new DataTransfer();
        transfer.items.add(new File([text], "cold.csv", { type: "text/csv" }));
        return transfer;
      },
      readFileSync(samplePath("attempt-1/baseline/frame-1.csv"), "utf8"),
    );
    await page.dispatchEvent(".drop-area", "drop", { dataTransfer: dropped });
    await page.getByRole("row", { name: /cold\.csv/ }).waitFor();
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), button("Choose files").click()]);
    await chooser.setFiles(samplePath("attempt-1/powered/frame-1.csv"));
    const baseline = page.getByRole("table", { name: "Baseline frames" });
    const powered = page.getByRole("table", { name: "Powered frames", exact: true });
    await powered.getByRole("row", { name: /frame-1\.csv/ }).waitFor();
    await expect
      .poll(() => baseline.getByRole("row").nth(1).textContent(), LONG)
      .toMatch(/160×120.*−20\.0 … 26\.6 °C.*K/);
    // Roles by one click, there and back.
    await powered.getByRole("button", { name: "Mark as baseline" }).click();
    await page.getByText("No powered frame yet.").waitFor();
    await baseline
      .getByRole("row", { name: /frame-1\.csv/ })
      .getByRole("button", { name: "Mark as powered" })
      .click();
    await powered.waitFor();
    await page.getByLabel("Volts").fill("0,9");
    await page.getByLabel("Amps").fill("0.278");
    await page.reload();
    await powered.waitFor();
    await expect.poll(() => page.getByLabel("Volts").inputValue(), LONG).toBe("0,9");
    await open.restart();
    await powered.waitFor();
    await expect.poll(() => baseline.getByRole("row").count(), LONG).toBe(2);

    // Outline, fiducials, four parts.
    await section("Board").click();
    await page.getByLabel(/^Left to right/).waitFor();
    const click = async (at: { x: number; y: number }): Promise<void> => {
      await page.mouse.move(at.x, at.y);
      await page.mouse.click(at.x, at.y);
    };
    for (const corner of CORNERS_PX) await click(await panePoint(page, "picture", corner, FRAME_PX));
    for (const [label, size] of [
      ["Left to right", SIZE_MM[0]],
      ["Top to bottom", SIZE_MM[1]],
    ] as const) {
      const field = page.getByLabel(new RegExp(`^${label}`));
      await field.fill(String(size));
      await field.press("Enter");
    }
    await button("Make outline and fiducials").click();
    await button("Draw board").click();
    for (const { ref, from, to, finish } of PARTS) {
      await button("Rectangle").click();
      await click(await panePoint(page, "board", from, SIZE_MM));
      await click(await panePoint(page, "board", to, SIZE_MM));
      const field = page.getByLabel(/^Ref/);
      await field.fill(ref);
      await field.press("Enter");
      if (finish !== undefined) await page.getByLabel(/^Finish/).selectOption(finish);
    }
    await button("Save board").click();
    await page
      .getByText(/is kept in the job/)
      .first()
      .waitFor();

    await section("Frames").click();
    await page.getByText("is placed on the board by its fiducials").waitFor();
    await button("Analyse").click();
    await page.locator(".board-canvas").waitFor(LONG);
    await expect.poll(() => page.locator(".verdict h2").textContent(), LONG).toContain("C6");
    await expectSameAsFind();

    // The second attempt: a folder with a burst; it is placed by the first.
    await section("Frames").click();
    await page.getByLabel("Folder", { exact: true }).setInputFiles(samplePath("attempt-2"));
    await page.getByText("is placed on the board by an earlier attempt").waitFor(LONG);
    await expect.poll(() => page.getByText("a burst, in this order").count(), LONG).toBe(1);
    await page.getByLabel("Frames per second").fill("2");
    await button("Analyse").click();
    await page.getByRole("link", { name: "Attempt 2" }).waitFor(LONG);
    await page.locator(".board-canvas").waitFor(LONG);
    await expect.poll(() => page.locator(".verdict h2").textContent(), LONG).toContain("C6");

    // A place's time course; another rate of false alarms redraws, and counts places.
    await page.locator(".cursor-layer").click({ position: { x: 400, y: 160 } });
    await page.getByRole("region", { name: "Time course" }).getByRole("img").waitFor(LONG);
    await page.getByRole("slider").fill("0");
    await page.getByText(/At this rate/).waitFor();
    await button("As in the findings").click();

    await section("Attempts").click();
    await expect
      .poll(() => page.locator(".change-list li", { hasText: "C6" }).textContent(), LONG)
      .toMatch(/still there|hotter|cooler/);

    await section("Readings").click();
    await page.getByLabel("New place").fill("VSYS");
    await button("Add").click();
    await page.getByLabel("Reading at VSYS").fill("0,003");
    await page.getByLabel("Reading at VSYS").press("Enter");
    await page.getByRole("row", { name: /^VSYS/ }).getByText("short to ground", { exact: true }).waitFor();
    await page.getByLabel("Part", { exact: true }).fill("c6");
    await button("Note the action").click();
    await page.getByText("C6 replaced").first().waitFor();

    await section("Report").click();
    await button("Make the report").click();
    const [download] = await Promise.all([
      page.waitForEvent("download", LONG),
      page.getByRole("link", { name: "Repair report as HTML" }).click(LONG),
    ]);
    await expectReport(open.browser, await saved(download, "downloaded.html"), jobFolder());
    // The same press has packed the job, and written for whoever owns the device.
    await page.getByRole("link", { name: "Customer's report as PDF" }).waitFor(LONG);
    const [zip] = await Promise.all([
      page.waitForEvent("download", LONG),
      page.getByRole("link", { name: "Whole job as ZIP" }).click(LONG),
    ]);
    // What was packed is the job, and sound, wherever it is unpacked.
    const elsewhere = join(open.jobs, "..", `${basename(open.jobs)}-unpacked`);
    const words = ["job", "unpack", await saved(zip, "downloaded.zip"), elsewhere];
    const unpacked = await promisify(execFile)(process.execPath, [
      join(PROJECT, "bin/faultglow.js"),
      ...words,
    ]);
    expect(unpacked.stdout).toContain(elsewhere);
    rmSync(elsewhere, { recursive: true });
    expect(open.faults).toEqual([]);
  });

  it("goes by keyboard alone", async () => {
    open = await openBenchPage();
    const { page } = open;
    const { press, type, tabTo, enter, walk } = keyboardOf(page);
    await page.getByRole("heading", { name: "New job" }).waitFor();
    await tabTo('input[name="device"]');
    await type("soil meter");
    await press("Enter");
    await page.getByText("Drop the frames here").waitFor();
    // Asked for before the keys: a browser that is not told yet opens the system's own dialogue.
    const chosen = page.waitForEvent("filechooser", LONG);
    await tabTo("button", "Choose files");
    await press("Enter");
    await (await chosen).setFiles(
      ["attempt-1/baseline/frame-1.csv", "attempt-1/powered/frame-1.csv"].map(samplePath),
    );
    await page.getByRole("table", { name: "Powered frames", exact: true }).waitFor();
    await tabTo('input[name="volts"]');
    await type("0.9");
    await tabTo('input[name="amps"]');
    await type("0,278");

    // The outline and four parts by their numbers, fiducials by a cross on each pane.
    await enter("Draw the board");
    await page.getByLabel(/^Left to right/).waitFor();
    await enter(/^Draw board/);
    const corners = async (points: readonly (readonly [number, number])[]): Promise<void> => {
      await tabTo(".draw-next input");
      for (const [x, y] of points) {
        await type(String(x));
        await press("Tab");
        await type(String(y));
        await press("Enter");
      }
    };
    const rectangle = [[0, 0], [SIZE_MM[0], 0], [...SIZE_MM], [0, SIZE_MM[1]]] as [number, number][];
    await enter("Draw outline");
    await corners(rectangle);
    await press("Shift+Tab");
    await corners([rectangle[0]!]);
    for (const { ref, from, to } of PARTS) {
      await tabTo("button", /^Rectangle/);
      await press("Enter");
      await corners([from, to]);
      await tabTo("#draw-form input");
      await press("Control+a");
      await type(ref);
      await press("Enter");
    }
    await enter(/^Fiducials/);
    await tabTo('input[name="draw-way"]');
    await press("ArrowDown", 2);
    let pixel: readonly [number, number] = [80, 60];
    let mm = null as readonly [number, number] | null;
    for (const [i, corner] of rectangle.entries()) {
      const at = CORNERS_PX[i]!.map((value) => Math.round(value * 10) / 10) as [number, number];
      await tabTo('[data-pane="picture"]');
      await walk([at[0] - pixel[0], at[1] - pixel[1]], 1);
      await press("Enter");
      await tabTo('[data-pane="board"]');
      mm ??= await crossOnBoard();
      await walk([corner[0] - mm[0], corner[1] - mm[1]], 0.5);
      await press("Enter");
      [pixel, mm] = [at, corner];
    }
    await enter("Save board");
    await page
      .getByText(/is kept in the job/)
      .first()
      .waitFor();

    await enter("Frames");
    await page.getByText("is placed on the board by its fiducials").waitFor();
    await enter(/^Analyse/);
    await page.locator(".board-canvas").waitFor(LONG);
    await expect.poll(() => page.locator(".verdict h2").textContent(), LONG).toContain("C6");
    await tabTo('[role="application"]');
    await press("Shift+ArrowRight", 2);
    await page
      .getByText(/mm · baseline/)
      .first()
      .waitFor();
    await press("Enter");
    await press("Shift+ArrowDown", 3);
    await press("Enter");
    await page.getByRole("region", { name: "Profile line" }).waitFor();

    // The second attempt: a folder with a burst; it is placed by the first. A reload in between forgets nothing.
    await enter("Frames");
    const folder = page.waitForEvent("filechooser", LONG);
    await tabTo("button", "Choose a folder");
    await press("Enter");
    await (await folder).setFiles(samplePath("attempt-2"));
    await page.getByText("is placed on the board by an earlier attempt").waitFor(LONG);
    // F5 is a key of the browser's own window, which it does not have here.
    await page.reload();
    await page.getByText("is placed on the board by an earlier attempt").waitFor(LONG);
    await tabTo('input[name="rateHz"]');
    await type("2");
    await enter(/^Analyse/);
    await page.getByRole("link", { name: "Attempt 2" }).waitFor(LONG);
    await page.locator(".board-canvas").waitFor(LONG);
    await expect.poll(() => page.locator(".verdict h2").textContent(), LONG).toContain("C6");

    await enter("Attempts");
    await expect
      .poll(() => page.locator(".change-list li", { hasText: "C6" }).textContent(), LONG)
      .toMatch(/still there|hotter|cooler/);

    await enter("Readings");
    await tabTo("#new-place");
    await type("U6 1-2");
    await press("Enter");
    // The first of the two rows has the focus; Enter goes on to the next.
    await page.getByLabel("Reading at U6 pin 1").waitFor();
    await tabTo("input.value");
    await type("0.45");
    await press("Enter");
    await type("OL");
    await press("Enter");
    await page.getByText("0.450 V").first().waitFor();
    await page.getByRole("row", { name: /pin 2/ }).getByText("OL").first().waitFor();
    await tabTo(".action-form input");
    await type("c6");
    await press("Enter");
    await page.getByText("C6 replaced").first().waitFor();

    await enter("Report");
    await enter("Make the report");
    await page.getByRole("link", { name: "Whole job as ZIP" }).waitFor(LONG);
    await tabTo("a.download", "HTML");
    const [html] = await Promise.all([page.waitForEvent("download", LONG), press("Enter")]);
    await expectReport(open.browser, await saved(html, "downloaded.html"), jobFolder());
    await tabTo("a.download", "PDF");
    const [pdf] = await Promise.all([page.waitForEvent("download", LONG), press("Enter")]);
    const bytes = readFileSync(await saved(pdf, "downloaded.pdf"));
    expect(bytes.subarray(0, 5).toString()).toBe("%PDF-");
    // Boards, suspects, readings and proof don't go on one page.
    expect(bytes.toString("latin1").match(/\/Type \/Page\b/g)!.length).toBeGreaterThan(1);
    expect(open.faults).toEqual([]);

    /** Where the editor says that the cross of the board is, mm. */
    async function crossOnBoard(): Promise<readonly [number, number]> {
      await press("ArrowRight");
      const said = page.getByRole("status").filter({ hasText: /^-?[\d.]+, -?[\d.]+ mm$/ });
      const [x = 0, y = 0] = ((await said.textContent()) ?? "").split(", ").map(Number.parseFloat);
      return [x, y];
    }
  });
});
