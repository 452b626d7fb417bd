// The board editor on the real bench: a slanting photo is placed, drawn over and saved; the next job takes the map
// over.
import sharp from "sharp";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Calls } from "../../src/api/calls.js";
import type { Point } from "../../src/board/polygon.js";
import { fitCamera, toScreen } from "../../src/page/draw/model/camera.js";
import { keepShot } from "./keep-shot.js";
import { type OpenBench, openBenchPage } from "./open-bench.js";
import { stillBox } from "./still-box.js";

let open: OpenBench;
beforeAll(async () => {
  open = await openBenchPage();
});
afterAll(() => open?.close());

const [WIDTH, HEIGHT] = [640, 480];
/** Corners of the board in the photo, from the upper left clockwise. */
const CORNERS: readonly Point[] = [
  [90, 80],
  [560, 110],
  [530, 400],
  [120, 380],
];

async function photoOf(form: "jpeg" | "png" | "webp"): Promise<Buffer> {
  const points = CORNERS.map((corner) => corner.join(",")).join(" ");
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${WIDTH}" height="${HEIGHT}"><rect width="100%" height="100%" fill="#888"/><polygon points="${points}" fill="#164"/></svg>`;
  return sharp(Buffer.from(svg))[form]().toBuffer();
}

async function ask<Name extends keyof Calls>(
  method: string,
  path: string,
  body?: object,
): Promise<Calls[Name]["answer"]> {
  return open.page.evaluate(
    async ([verb, address, text]) => {
      const init: RequestInit = { method: verb! };
      if (text !== undefined)
        Object.assign(init, { body: text, headers: { "Content-Type": "application/json" } });
      return (await fetch(address!, init)).json();
    },
    [method, path, body === undefined ? undefined : JSON.stringify(body)],
  ) as Promise<Calls[Name]["answer"]>;
}

async function openBoard(device: string): Promise<string> {
  const { job } = await ask<"makeJob">("POST", "/api/jobs", { device });
  await open.page.evaluate((id) => {
    location.hash = `#/jobs/${id}/board`;
  }, job);
  // Not the editor of the job before, which is there until this one has come.
  await open.page.getByRole("heading", { name: `${device}: Board` }).waitFor({ state: "attached" });
  await open.page.getByRole("button", { name: "Save board" }).waitFor();
  return job;
}

describe("the board editor on the bench", () => {
  it.each(["jpeg", "png", "webp"] as const)("places a %s, and saves the board into the job", async (form) => {
    const { page } = open;
    const job = await openBoard(`tide clock ${form}`);
    await page.getByRole("button", { name: "Fiducials", exact: true }).click();
    await page
      .getByLabel("Add a photo of the board")
      .setInputFiles({ name: `photo.${form}`, mimeType: `image/${form}`, buffer: await photoOf(form) });
    await page.locator("img.draw-picture").waitFor();
    await page.getByLabel("The four corners of a rectangular board, and its size").check();
    const box = await stillBox(page.locator('[data-pane="picture"]'));
    const inside = { width: Math.round(box.width - 2), height: Math.round(box.height - 2) };
    const bounds = { minX: -0.5, minY: -0.5, maxX: WIDTH - 0.5, maxY: HEIGHT - 0.5 };
    for (const corner of CORNERS) {
      const [u, v] = toScreen(fitCamera(bounds, inside, false, 0.02), inside, corner);
      await page.mouse.click(box.x + 1 + u, box.y + 1 + v);
    }
    for (const [label, mm] of [
      ["Left to right", "62.5"],
      ["Top to bottom", "40"],
    ] as const) {
      await page.getByLabel(new RegExp(`^${label}`)).fill(mm);
      await page.getByLabel(new RegExp(`^${label}`)).press("Enter");
    }
    await page.getByRole("button", { name: "Make outline and fiducials" }).click();
    await page.getByRole("button", { name: "Draw board", exact: true }).click();
    // The photo is warped under the board: a millimetre inside its corners is board, a millimetre outside is not.
    const pane = await stillBox(page.locator('[data-pane="board"]'));
    const size = { width: Math.round(pane.width - 2), height: Math.round(pane.height - 2) };
    const camera = fitCamera({ minX: 0, minY: 0, maxX: 62.5, maxY: 40 }, size, false);
    // The pixels are looked at: no message may lie over them.
    await expect.poll(() => page.locator(".said.shown").count()).toBe(0);
    await page.locator("img.draw-picture").evaluate((image: HTMLImageElement) => image.decode());
    await stillBox(page.locator("img.draw-picture"));
    const picture = sharp(await page.screenshot());
    const isBoard = async (mm: Point): Promise<boolean> => {
      const [u, v] = toScreen(camera, size, mm);
      const [left, top] = [Math.round(pane.x + 1 + u), Math.round(pane.y + 1 + v)];
      const { data } = await picture
        .clone()
        .extract({ left, top, width: 1, height: 1 })
        .raw()
        .toBuffer({ resolveWithObject: true });
      return data[1]! > data[0]! + 30;
    };
    for (const [x, y, outX, outY] of [
      [0, 0, -1, -1],
      [62.5, 0, 1, -1],
      [62.5, 40, 1, 1],
      [0, 40, -1, 1],
    ] as const) {
      // Off the lines of the grid, which lie on whole millimetres.
      expect(await isBoard([x - 1.3 * outX, y - 1.3 * outY]), `inside ${x}, ${y}`).toBe(true);
      expect(await isBoard([x + 1.3 * outX, y + 1.3 * outY]), `outside ${x}, ${y}`).toBe(false);
    }
    await keepShot(page, `bench-${form}`);
    await page.getByRole("button", { name: "Save board" }).click();
    await expect.poll(async () => (await ask<"jobState">("GET", `/api/jobs/${job}`)).boards.length).toBe(1);
    const [board] = (await ask<"jobState">("GET", `/api/jobs/${job}`)).boards;
    expect(board!.map.outline).toEqual([
      [0, 0],
      [62.5, 0],
      [62.5, 40],
      [0, 40],
    ]);
    expect(open.faults).toEqual([]);
  });

  it("loses nothing of a large map by a reload right after it came", async () => {
    const { page } = open;
    await openBoard("tide clock of many parts");
    const parts = Array.from(
      { length: 900 },
      (_, i) => `R${i + 1},${2 + (i % 45)},${2 + Math.floor(i / 45)},0,top,0402`,
    );
    await page.getByText("Import a table, SVG or map").click();
    await page.getByLabel("Choose a file").setInputFiles({
      name: "parts.csv",
      mimeType: "text/csv",
      buffer: Buffer.from(["ref,x,y,rotation,side,package", ...parts].join("\n")),
    });
    await page.getByText("900 regions of parts.csv").waitFor();
    await page.reload();
    await page.getByText("What was drawn and not saved yet is back.").waitFor();
    await page.getByRole("row", { name: /^R900/ }).waitFor({ state: "attached" });
    expect(open.faults).toEqual([]);
  });

  it("takes a map of another job from the library", async () => {
    const { page } = open;
    const job = await openBoard("tide clock png");
    await page.getByText("Map library").click();
    // The same device comes first.
    await page.getByRole("button", { name: /^Use tide clock png of tide clock png/ }).waitFor();
    await page.locator(".draw-library button").first().click();
    await page.getByRole("row", { name: /Outline.*62[.,]5 × 40/ }).waitFor();
    await page.getByRole("button", { name: "Save board" }).click();
    await expect.poll(async () => (await ask<"jobState">("GET", `/api/jobs/${job}`)).boards.length).toBe(1);
    expect(open.faults).toEqual([]);
  });
});
