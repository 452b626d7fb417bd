// The panes of the board's editor: a place on the picture or on the board → where the mouse has to go.
import type { Page } from "playwright-core";
import { type Camera, fitCamera, toScreen } from "../../src/page/draw/model/camera.js";
import { stillBox } from "./still-box.js";

/** Where a place of a pane is on the screen, while the pane shows all of it.
 *  @param size of the frame in px, or of the board in mm.
 *  @param isMirrored the board is seen from below.
 */
export async function panePoint(
  page: Page,
  name: "board" | "picture",
  at: readonly [number, number],
  size: readonly [number, number],
  isMirrored = false,
): Promise<{ x: number; y: number }> {
  const box = await stillBox(page.locator(`[data-pane="${name}"]`));
  // Borders of 1 px are no part of the pane's inside.
  const inside = { width: Math.round(box.width - 2), height: Math.round(box.height - 2) };
  const half = name === "picture" ? 0.5 : 0;
  const bounds = { minX: -half, minY: -half, maxX: size[0] - half, maxY: size[1] - half };
  const camera: Camera = fitCamera(bounds, inside, isMirrored, name === "picture" ? 0.02 : 0.08);
  const [u, v] = toScreen(camera, inside, [at[0], at[1]]);
  return { x: box.x + 1 + u, y: box.y + 1 + v };
}
