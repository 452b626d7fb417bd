// The board editor in Chromium: an outline, four regions and fiducials, by mouse.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import {
  button,
  CORNERS,
  clickAt,
  dragBy,
  expectPlaced,
  fill,
  HEIGHT_MM,
  onBoard,
  onPicture,
  openPage,
  page,
  save,
  startBrowser,
  stopBrowser,
} from "./draw-driver.js";
import { keepShot } from "./keep-shot.js";
import { stillBox } from "./still-box.js";

beforeAll(startBrowser);
afterAll(stopBrowser);

describe("the board editor", () => {
  it("draws and places a board by mouse", async () => {
    const faults = await openPage();
    for (const i of [2, 0, 3, 1]) await clickAt(await onPicture(CORNERS[i]!));
    await fill("Left to right", "58,5");
    await fill("Top to bottom", "34.5");
    await button("Make outline and fiducials").click();
    await button("Draw board").click();

    // A rectangle is dragged; its corners go to the grid.
    await button("Rectangle").click();
    const [from, to] = [await onBoard([12.1, 8.05]), await onBoard([19.9, 14.1])];
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(to.x - 20, to.y - 20, { steps: 3 });
    await page.mouse.move(to.x, to.y, { steps: 3 });
    await page.mouse.up();
    // A turned one takes three points: an edge of 3-4-5, then its depth.
    await button("Turned rectangle").click();
    for (const point of [
      [30, 10],
      [34, 13],
      [31, 17],
    ] as const)
      await clickAt(await onBoard(point));
    // A polygon is closed at its first corner.
    await button("Polygon").click();
    for (const point of [
      [40, 20],
      [50, 20],
      [50, 24],
      [44, 24],
      [40, 28],
      [40, 20],
    ] as const) {
      await clickAt(await onBoard(point));
    }
    // The bottom is mirrored: what is put at the left of the screen is at large x.
    await button("Bottom").click();
    await button("Rectangle").click();
    for (const point of [
      [50, 5],
      [45, 9],
    ] as const)
      await clickAt(await onBoard(point, true));
    expect((await onBoard([50, 5], true)).x).toBeLessThan((await onBoard([10, 5], true)).x);
    await fill("Ref", "C12");
    await page.getByLabel("Kind").selectOption("passive");
    await page.getByLabel("Nets, with commas between").fill("VBUS, GND");
    await page.getByLabel("Warm on a healthy board too").check();
    await keepShot(page, "mouse-bottom");

    // Undo and redo over all of it.
    for (let i = 0; i < 30; i++) {
      if (await button("Undo").isDisabled()) break;
      await button("Undo").click();
    }
    await page.getByText("The board has no outline yet.").waitFor();
    for (let i = 0; i < 30; i++) {
      if (await button("Redo").isDisabled()) break;
      await button("Redo").click();
    }
    await button("Top").click();

    // Choose the first region, drag it, and drag one corner of it.
    await button("Choose and move").click();
    await clickAt(await onBoard([16, 11]));
    await dragBy([16, 11], [2, 1]);
    await dragBy([22, 15], [1, 1]);
    await keepShot(page, "mouse-top");

    // A fifth fiducial: first on the picture, a pixel off, then on the board.
    await button("Fiducials").click();
    await clickAt(await onPicture([78.5, 90.5]));
    await clickAt(await onBoard([29, HEIGHT_MM]));
    const row = page.getByRole("table", { name: "Fiducials" }).getByRole("row").nth(5);
    await row.waitFor();
    await keepShot(page, "mouse-fiducials");
    await expect.poll(() => row.textContent()).toMatch(/\d\.\d\d\spx/);

    const saved = await save();
    expectPlaced(saved, 1.5);
    const { map } = saved;
    expect(map.name).toBe("tide clock");
    expect(map.outline).toEqual([
      [0, 0],
      [58.5, 0],
      [58.5, 34.5],
      [0, 34.5],
    ]);
    expect(map.regions.map(({ side }) => side)).toEqual(["top", "top", "top", "bottom"]);
    expect(map.regions[0]!.polygon).toEqual([
      [14, 9],
      [22, 9],
      [23, 16],
      [14, 15],
    ]);
    expect(map.regions[1]!.polygon[1]).toEqual([34, 13]);
    expect(map.regions[2]!.polygon).toEqual([
      [40, 20],
      [50, 20],
      [50, 24],
      [44, 24],
      [40, 28],
    ]);
    expect(map.regions[3]).toEqual({
      ref: "C12",
      side: "bottom",
      kind: "passive",
      nets: ["VBUS", "GND"],
      normallyWarm: true,
      polygon: [
        [45, 5],
        [50, 5],
        [50, 9],
        [45, 9],
      ],
    });
    expect(faults).toEqual([]);
    await page.close();
  });

  it("keeps the board in view when the window is made smaller, and shows it as before when it is large again", async () => {
    await openPage();
    for (const i of [2, 0, 3, 1]) await clickAt(await onPicture(CORNERS[i]!));
    await fill("Left to right", "58,5");
    await fill("Top to bottom", "34.5");
    await button("Make outline and fiducials").click();
    await button("Draw board").click();
    const boxes = async () => {
      const pane = await stillBox(page.locator('[data-pane="board"]'));
      const outline = await stillBox(page.locator('[data-pane="board"] .draw-outline').first());
      return { pane, outline };
    };
    const large = await boxes();
    await page.setViewportSize({ width: 1366, height: 470 });
    await expect.poll(async () => (await boxes()).pane.height).toBeLessThan(large.pane.height);
    const { pane, outline } = await boxes();
    expect(outline.y).toBeGreaterThan(pane.y);
    expect(outline.y + outline.height).toBeLessThan(pane.y + pane.height);
    expect(outline.width).toBeLessThan(large.outline.width);
    await page.setViewportSize({ width: 1366, height: 768 });
    await expect.poll(async () => (await boxes()).outline.width).toBeCloseTo(large.outline.width, 1);
  });
});
