// evaluate: a kind and a round → the scene on which constants are varied: the next one, or one of which the tool is not
// sure.
import { makeScene } from "../../simulate/make-scene.js";
import { KINDS, type Kind, type Scene } from "../../simulate/scene.js";
import type { Analyse } from "../tool-chain.js";
import { type SeenScene, seeScene } from "./seen-scene.js";

/** Kinds whose scenes are asked: those of one view and of parts that the map names, or of nothing that heats. */
export const VARIED_KINDS: readonly Kind[] = KINDS.filter(
  (kind) => kind !== "two-sides" && kind !== "unlisted",
);
/** Frames no wider than this, px: what a run costs grows with them. */
export const MOST_WIDTH_PX = 160;

/** In every second round the scene is that of so many of which the tool is least sure: where it is sure, what a
 *  constant does to a probability is nothing. */
export const DOUBTFUL_OF = 4;

/** Choose the scene of a kind for a round; no scene belongs to two rounds.
 *  @param asIs the tool, which says of which scene it is least sure; whether it is right is not asked.
 */
export function chooseScene(kind: Kind, seed: number, round: number, asIs: Analyse): Scene {
  const pairs = Math.floor(round / 2);
  const before = pairs * (1 + DOUBTFUL_OF) + (round % 2);
  const scenes = smallScenes(kind, seed, before, round % 2 === 0 ? 1 : DOUBTFUL_OF);
  if (scenes.length === 1) return scenes[0]!;
  const margins = scenes.map((scene) => marginOf(seeScene(scene, asIs)));
  return scenes[margins.indexOf(Math.min(...margins))]!;
}

/** By how much the most probable part, or none of the named, is ahead of the next one. */
export function marginOf({ chances }: Pick<SeenScene, "chances">): number {
  const [first = 1, second = 0] = Object.values(chances).sort((a, b) => b - a);
  return first - second;
}

/** Scenes with small frames, after so many of them. */
function smallScenes(kind: Kind, seed: number, before: number, count: number): Scene[] {
  const scenes: Scene[] = [];
  for (let next = seed; scenes.length < before + count; next++) {
    const scene = makeScene(kind, next);
    if (scene.baseline[0]!.width <= MOST_WIDTH_PX) scenes.push(scene);
  }
  return scenes.slice(before);
}
