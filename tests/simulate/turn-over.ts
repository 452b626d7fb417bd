// simulate: a plan → the same board turned over before the same camera.
import type { ScenePlan } from "./build-scene.js";
import { type Camera, randomCamera } from "./camera.js";
import type { Random } from "./random.js";
import { randomMirrors, randomScenery } from "./scenery.js";

/** Turn the board of a plan over: another side, parts, mask and mirrors; the camera keeps its frame and optics.
 *  @param maskEmissivity range of the mask's mean emissivity; the scenery's own where it is left out.
 */
export function turnOver(
  random: Random,
  plan: ScenePlan,
  maskEmissivity?: readonly [number, number],
): ScenePlan {
  const side = plan.side === "top" ? "bottom" : "top";
  const { width, height, blurPx, halo } = plan.camera;
  const optics = halo === undefined ? { blurPx } : { blurPx, halo };
  const camera: Camera = { ...randomCamera(random, plan.board.outline, side, [width, height]), ...optics };
  const board = { ...plan.board, unnamed: [] };
  const boardC = plan.scenery.boardC(...plan.board.outline[0]!) + random.uniform(-0.3, 0.3);
  const scenery = randomScenery(random, board, side, camera, plan.grid, boardC, maskEmissivity);
  return { ...plan, board, side, camera, scenery, mirrors: randomMirrors(random, scenery.parts.length) };
}
