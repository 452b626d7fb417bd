// The board editor in Chromium: an outline, four regions and fiducials, by keyboard alone.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { BoardMap, View } from "../../src/board/board-schema.js";
import type { Point } from "../../src/board/polygon.js";
import {
  CORNERS,
  crossAt,
  expectPlaced,
  HEIGHT_MM,
  openPage,
  page,
  startBrowser,
  stopBrowser,
  WIDTH_MM,
} from "./draw-driver.js";
import { keepShot } from "./keep-shot.js";
import { keyboardOf } from "./keyboard.js";

beforeAll(startBrowser);
afterAll(stopBrowser);

describe("the board editor", () => {
  it("draws and places a board by keyboard alone", async () => {
    const faults = await openPage();
    const { press, tabTo, walk } = keyboardOf(page);
    const TOOL = {
      outline: "Put the corners",
      rectangle: "A region along",
      polygon: "A region of any",
      turned: "A region at any",
    };
    const takeTool = async (tool: keyof typeof TOOL): Promise<void> => {
      await tabTo(`button[title^="${TOOL[tool]}"]`);
      await press("Enter");
    };
    await tabTo("button");
    await press("Enter");
    // The outline: the cross begins at 0, 0.
    await takeTool("outline");
    await expect.poll(() => page.locator(".draw-said").textContent()).toMatch(/The cross is at 0, 0 mm$/);
    await press("Enter");
    for (const by of [
      [WIDTH_MM, 0],
      [0, HEIGHT_MM],
      [-WIDTH_MM, 0],
    ] as const) {
      await walk(by, 0.5);
      await press("Enter");
    }
    await press("Shift+Enter");
    // A rectangle by the cross; the first corner is 12, 8.
    await takeTool("rectangle");
    await walk([12, 8 - HEIGHT_MM], 0.5);
    await press("Enter");
    await walk([8, 6.05], 0.5);
    await press("Enter");
    // A turned one and a polygon by their numbers, with comma and with point.
    const typed = async (corners: readonly (readonly [string, string])[]): Promise<void> => {
      await tabTo(".draw-next input");
      for (const [x, y] of corners) {
        await page.keyboard.type(x);
        await press("Tab");
        await page.keyboard.type(y);
        await press("Enter");
      }
    };
    await takeTool("turned");
    await typed([
      ["30", "10"],
      ["34", "13"],
      ["31", "17"],
    ]);
    await takeTool("polygon");
    await typed([
      ["40", "20"],
      ["50", "20"],
      ["50", "24,5"],
      ["44", "24.5"],
      ["40", "20"],
    ]);
    // The first region again, from the table: moved, made larger, copied; then named in its form.
    await tabTo(".draw-table tbody tr");
    await press("Home");
    await press("ArrowDown");
    await press("Space");
    await press("ArrowRight", 4);
    await press("Shift+ArrowDown");
    await press("Alt+ArrowRight");
    await press("Space");
    await page.getByText("U1 at 18.25, 11.08 mm, 8.5 × 6.05 mm").first().waitFor();
    await press("Enter");
    await press("Control+a");
    await page.keyboard.type("Q5");
    await page.getByRole("row", { name: /^Q5/ }).waitFor();
    await page.keyboard.press("Shift+Tab");
    await tabTo('.draw-table tbody tr[tabindex="0"]');
    await press("Control+d");
    // The copy is drawn on the other side, 20 mm lower.
    await tabTo("#draw-form select");
    await page.keyboard.type("bottom");
    await tabTo(".draw-numbers input");
    await press("Tab");
    await press("Control+a");
    await page.keyboard.type("29");
    await press("Enter");
    await keepShot(page, "keyboard-draw");

    // Fiducials at the corners, one by one.
    await tabTo('button[aria-pressed="false"]:not([title])');
    await press("Enter");
    await tabTo('input[name="draw-way"]');
    await press("ArrowDown", 2);
    const corners: readonly Point[] = [
      [0, 0],
      [WIDTH_MM, 0],
      [WIDTH_MM, HEIGHT_MM],
      [0, HEIGHT_MM],
    ];
    let [pixel, mm]: Point[] = [
      [80, 60],
      [0, 0],
    ];
    for (const [i, corner] of corners.entries()) {
      await tabTo('[data-pane="picture"]');
      await walk([CORNERS[i]![0] - pixel![0], CORNERS[i]![1] - pixel![1]], 1);
      await press("Enter");
      await tabTo('[data-pane="board"]');
      if (i === 0) mm = await crossAt();
      await walk([corner[0] - mm![0], corner[1] - mm![1]], 0.5);
      await press("Enter");
      [pixel, mm] = [CORNERS[i]!, corner];
    }
    await keepShot(page, "keyboard-fiducials");
    await tabTo(".draw-end button");
    await press("Enter");
    await page.waitForFunction(() => window.saved.length > 0);
    const saved = ((await page.evaluate(() => window.saved)) as { map: BoardMap; view: View }[])[0]!;
    expectPlaced(saved, 1e-6);
    const { map } = saved;
    expect(map.outline).toEqual(corners);
    expect(map.regions.map(({ ref, side }) => [ref, side])).toEqual([
      ["Q5", "top"],
      ["U2", "top"],
      ["U3", "top"],
      ["Q6", "bottom"],
    ]);
    expect(map.regions[0]!.polygon).toEqual([
      [14, 8.05],
      [22.5, 8.05],
      [22.5, 14.1],
      [14, 14.1],
    ]);
    expect(map.regions[1]!.polygon).toEqual([
      [30, 10],
      [34, 13],
      [31, 17],
      [27, 14],
    ]);
    expect(map.regions[2]!.polygon).toEqual([
      [40, 20],
      [50, 20],
      [50, 24.5],
      [44, 24.5],
    ]);
    expect(map.regions[3]!.polygon[0]).toEqual([16, 25.975]);
    expect(faults).toEqual([]);
    await page.close();
  });
});
