// The board editor in Chromium: drafts, imports and exports, placing by an earlier attempt, and fingers.
import { readFileSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BoardMap } from "../../src/board/board-schema.js";
import { importBoard } from "../../src/import/import-board.js";
import {
  button,
  CORNERS,
  clickAt,
  expectPlaced,
  fill,
  HEIGHT_MM,
  onBoard,
  onPicture,
  openOnTablet,
  openPage,
  page,
  pinch,
  save,
  startBrowser,
  stopBrowser,
  WIDTH_MM,
} from "./draw-driver.js";
import { keepShot } from "./keep-shot.js";
import { stillBox } from "./still-box.js";

beforeAll(startBrowser);
afterAll(stopBrowser);

describe("the board editor", () => {
  it("loses nothing when it is loaded again, and reads back what it exports", async () => {
    const faults = await openPage();
    for (const i of [0, 1, 2, 3]) await clickAt(await onPicture(CORNERS[i]!));
    await fill("Left to right", String(WIDTH_MM));
    await fill("Top to bottom", String(HEIGHT_MM));
    await button("Make outline and fiducials").click();
    await button("Draw board").click();

    // A table in mils, y upwards from the lower left corner of the outline.
    await page.getByText("Import a table, SVG or map").click();
    await page.getByLabel("Unit").selectOption("mil");
    const table =
      "ref,x,y,rotation,side,package\nR1,400,300,0,top,0603\nR2,800,300,90,top,0603\nR3,1200,500,0,bottom,0805\n";
    const file = page.getByLabel("Choose a file");
    await file.setInputFiles({ name: "parts.csv", mimeType: "text/csv", buffer: Buffer.from(table) });
    await page.getByRole("row", { name: /^R3/ }).waitFor();
    await page.getByText("3 regions of parts.csv").waitFor();
    // 800 and 300 mil; y counts from the other edge of the outline.
    await expect
      .poll(() => page.getByRole("row", { name: /^R2/ }).textContent())
      .toContain(`20.32, ${HEIGHT_MM - 7.62}`);

    // A table that can't be read says why, and changes nothing.
    await file.setInputFiles({ name: "bad.csv", mimeType: "text/csv", buffer: Buffer.from("ref,x\nR9,4\n") });
    await page.locator(".draw-wrong").waitFor();
    await expect
      .poll(() => page.getByRole("grid", { name: "Outline and regions" }).getByRole("row").count())
      .toBe(5);

    await page.waitForFunction(() => JSON.stringify(window.drafts).includes("R3"));
    await page.reload();
    await page.getByText("What was drawn and not saved yet is back.").waitFor();
    await button("Draw board").click();
    await page.getByRole("row", { name: /^R3/ }).waitFor();

    const exported: Record<string, string> = {};
    await page.getByText("Export", { exact: true }).click();
    for (const form of ["SVG", "JSON"]) {
      const [download] = await Promise.all([page.waitForEvent("download"), button(`As ${form}`).click()]);
      expect(download.suggestedFilename()).toBe(`tide-clock.${form.toLowerCase()}`);
      exported[form] = readFileSync(await download.path(), "utf8");
    }
    const map = JSON.parse(exported["JSON"]!) as BoardMap;
    expect(importBoard(Buffer.from(exported["SVG"]!), "tide-clock.svg").board).toEqual(map);
    expect(map.regions.map(({ ref }) => ref)).toEqual(["R1", "R2", "R3"]);

    // The drawing is replaced by the SVG, then undone; both make the same map.
    await page.getByText("Import a table, SVG or map").click();
    await page.getByLabel(/^Take/).selectOption("all");
    await page.getByLabel("Choose a file").setInputFiles({
      name: "tide-clock.svg",
      mimeType: "image/svg+xml",
      buffer: Buffer.from(exported["SVG"]!),
    });
    await page.getByText("3 regions of tide-clock.svg").waitFor();
    const saved = await save();
    expect(saved.map).toEqual(map);
    expectPlaced(saved, 0.5);
    expect(faults).toEqual([]);
    await page.close();
  });

  it.each(["trusted", "doubtful"])("takes the placing of an earlier attempt, if it is %s", async (sort) => {
    const faults = await openPage(`?place=${sort}`);
    await button("Draw board").click();
    await button("Draw outline").click();
    for (const [x, y] of [
      ["0", "0"],
      ["58.5", "0"],
      ["58.5", "34.5"],
      ["0", "34.5"],
    ] as const) {
      await page.locator(".draw-next input").first().fill(x);
      await page.locator(".draw-next input").nth(1).fill(y);
      await page.locator(".draw-next input").nth(1).press("Enter");
    }
    await button("Close shape").click();
    await button("Fiducials").click();
    await button("Place by an earlier attempt").click();
    if (sort === "doubtful") {
      await page.getByText("Not to be trusted: edges agree in part only.").waitFor();
      await expect.poll(() => page.getByRole("table", { name: "Fiducials" }).count()).toBe(0);
      await button("Take it all the same").click();
    } else {
      await page.getByText("Placed by attempt 3, good to 0.10 mm").first().waitFor();
    }
    await page.getByRole("table", { name: "Fiducials" }).waitFor();
    expectPlaced(await save(), 1e-6);
    expect(faults).toEqual([]);
    await page.close();
  });

  it("is worked by touch on a tablet, in the dark", async () => {
    await openOnTablet();
    for (const i of [0, 1, 2, 3]) {
      const { x, y } = await onPicture(CORNERS[i]!);
      await page.touchscreen.tap(x, y);
    }
    await fill("Left to right", String(WIDTH_MM));
    await fill("Top to bottom", String(HEIGHT_MM));
    await button("Make outline and fiducials").tap();
    await keepShot(page, "tablet-fiducials");
    await button("Draw board").tap();
    await button("Rectangle").tap();
    for (const point of [
      [10, 8],
      [18, 14],
    ] as const) {
      const { x, y } = await onBoard(point);
      await page.touchscreen.tap(x, y);
    }
    await page.getByRole("row", { name: /^U1/ }).waitFor();
    await keepShot(page, "tablet-draw");
    // Two fingers that move apart enlarge the board, and put no corner.
    const outline = page.locator(".draw-outline .draw-line");
    const before = await stillBox(outline);
    await pinch(await onBoard([20, 15]), [30, 90]);
    await expect.poll(async () => (await stillBox(outline)).width / before.width).toBeCloseTo(3, 1);
    await expect
      .poll(() => page.getByRole("grid", { name: "Outline and regions" }).getByRole("row").count())
      .toBe(3);
    expect((await save()).map.regions[0]!.polygon).toEqual([
      [10, 8],
      [18, 8],
      [18, 14],
      [10, 14],
    ]);
    await page.context().close();
  });
});
