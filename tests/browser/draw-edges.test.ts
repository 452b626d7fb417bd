// The picture that fiducials are picked on, in Chromium: all its greys, and faint edges brought out on demand.
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openOnTablet, openPage, page, startBrowser, stopBrowser } from "./draw-driver.js";
import { LONG } from "./patience.js";

beforeAll(startBrowser);
afterAll(stopBrowser);

/** Greys of the picture: darkest, lightest, and the step over the edges of the small parts. */
const greys = () =>
  page.locator('[data-pane="picture"] canvas').evaluate((element) => {
    const canvas = element as HTMLCanvasElement;
    const { data, width } = canvas.getContext("2d")!.getImageData(0, 0, canvas.width, canvas.height);
    const at = (x: number, y: number): number => data[4 * (y * width + x)]!;
    const all = Array.from({ length: data.length / 4 }, (_, i) => data[4 * i]!);
    return { least: Math.min(...all), most: Math.max(...all), step: at(47, 42) - at(42, 42) };
  });

describe("the picture to pick on", () => {
  it("uses all greys, on dark pages too, and brings out faint edges where that is asked", async () => {
    for (const opened of [openPage, openOnTablet]) {
      await opened();
      const plain = await greys();
      expect(plain.most - plain.least).toBeGreaterThan(200);
      const tick = page.getByLabel("Bring out edges");
      await tick.check();
      await expect.poll(async () => (await greys()).step, LONG).toBeGreaterThan(1.3 * plain.step);
      await tick.uncheck();
      await expect.poll(greys, LONG).toEqual(plain);
    }
  });
});
