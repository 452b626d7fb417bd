// Drives the board editor of draw-page.tsx in Chromium: its panes, their points on the screen, and what it hands over.
import { type Browser, chromium, type Page } from "playwright-core";
import { expect } from "vitest";
import type { BoardMap, View } from "../../src/board/board-schema.js";
import { checkBoard } from "../../src/board/check-board.js";
import { placeView } from "../../src/board/place-view.js";
import type { Point } from "../../src/board/polygon.js";
import { boardPoint } from "../../src/core/units.js";
import { chromiumPath } from "./chromium-path.js";
import { panePoint } from "./pane-points.js";
import { PATIENCE_MS } from "./patience.js";
import { serveDrawPage } from "./serve-draw-page.js";

/** The browser, and the page that is open in it now. */
let browser: Browser;
export let page: Page;
let server: Awaited<ReturnType<typeof serveDrawPage>>;

/** Start the browser and the page's server. */
export async function startBrowser(): Promise<void> {
  server = await serveDrawPage();
  browser = await chromium.launch({ executablePath: chromiumPath(), args: ["--no-sandbox"] });
}

/** End both. */
export async function stopBrowser(): Promise<void> {
  await browser?.close();
  await server?.stop();
}

/** Open the editor on a tablet, in the dark. */
export async function openOnTablet(): Promise<void> {
  const context = await browser.newContext({
    viewport: { width: 820, height: 1180 },
    hasTouch: true,
    isMobile: true,
    colorScheme: "dark",
  });
  page = await context.newPage();
  page.setDefaultTimeout(PATIENCE_MS);
  await page.goto(server.address);
  await button("Save board").waitFor();
}

/** Corners of the board in the picture of draw-page.tsx, at the outer edges of its pixels, from the upper left
 *  clockwise. */
export const CORNERS: readonly Point[] = [
  [19.5, 21.5],
  [136.5, 21.5],
  [136.5, 90.5],
  [19.5, 90.5],
];
/** Half of that, as if the camera saw 2 px a mm. */
export const [WIDTH_MM, HEIGHT_MM] = [58.5, 34.5];

export async function openPage(query = ""): Promise<string[]> {
  page = await browser.newPage({ viewport: { width: 1366, height: 768 } });
  page.setDefaultTimeout(PATIENCE_MS);
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(error.message));
  page.on("console", (message) => {
    if (message.type() === "error") faults.push(message.text());
  });
  await page.goto(`${server.address}${query}`);
  await page.getByRole("button", { name: "Save board" }).waitFor();
  return faults;
}

export const button = (name: string | RegExp) => page.getByRole("button", { name, exact: true });

export const onBoard = (point: Point, isMirrored = false) =>
  panePoint(page, "board", point, [WIDTH_MM, HEIGHT_MM], isMirrored);
export const onPicture = (point: Point) => panePoint(page, "picture", point, [160, 120]);

export async function clickAt({ x, y }: { x: number; y: number }): Promise<void> {
  await page.mouse.move(x, y);
  await page.mouse.click(x, y);
}

export async function fill(label: string, text: string): Promise<void> {
  const field = page.getByLabel(new RegExp(`^${label}`));
  await field.fill(text);
  await field.press("Enter");
}

/** Save, and give what the editor handed over. */
export async function save(): Promise<{ map: BoardMap; view: View }> {
  await button("Save board").click();
  await page.waitForFunction(() => window.saved.length > 0);
  const [saved] = (await page.evaluate(() => window.saved)) as { map: BoardMap; view: View }[];
  return saved!;
}

/** The map is sound, and the view sends the board's corners to their pixels. */
export function expectPlaced({ map, view }: { map: BoardMap; view: View }, withinPx: number): void {
  expect(checkBoard(map).filter(({ severity }) => severity === "error")).toEqual([]);
  expect(view.frame).toEqual({ width: 160, height: 120 });
  const { toFrame } = placeView(view);
  const corners: Point[] = [
    [0, 0],
    [WIDTH_MM, 0],
    [WIDTH_MM, HEIGHT_MM],
    [0, HEIGHT_MM],
  ];
  corners.forEach((corner, i) => {
    const [x, y] = toFrame(boardPoint(...corner));
    expect(Math.hypot(x - CORNERS[i]![0], y - CORNERS[i]![1])).toBeLessThan(withinPx);
  });
}

/** Where the cross of the board stands, as its last step said. */
export async function crossAt(): Promise<Point> {
  await page.keyboard.press("ArrowRight");
  const text = await page
    .getByRole("status")
    .filter({ hasText: /^-?[\d.]+, -?[\d.]+ mm$/ })
    .textContent();
  const [x, y] = text!.split(", ").map(Number.parseFloat);
  return [x!, y!];
}

/** Two fingers about a place, so many px from it on both sides: from the first distance to the second. */
export async function pinch(
  { x, y }: { x: number; y: number },
  [from, to]: readonly [number, number],
): Promise<void> {
  const session = await page.context().newCDPSession(page);
  const touch = (type: "touchStart" | "touchMove" | "touchEnd", px: number | null) =>
    session.send("Input.dispatchTouchEvent", {
      type,
      touchPoints:
        px === null
          ? []
          : [
              { x: x - px, y, id: 1 },
              { x: x + px, y, id: 2 },
            ],
    });
  await touch("touchStart", from);
  for (let i = 1; i <= 6; i++) await touch("touchMove", from + ((to - from) * i) / 6);
  await touch("touchEnd", null);
}

export async function dragBy(from: Point, by: Point): Promise<void> {
  const [a, b] = [await onBoard(from), await onBoard([from[0] + by[0], from[1] + by[1]])];
  await page.mouse.move(a.x, a.y);
  await page.mouse.down();
  await page.mouse.move((a.x + b.x) / 2, (a.y + b.y) / 2, { steps: 2 });
  await page.mouse.move(b.x, b.y, { steps: 2 });
  await page.mouse.up();
}
