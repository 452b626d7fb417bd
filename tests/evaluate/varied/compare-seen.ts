// evaluate: what the tool says of scenes with and without a change of a constant → how much that changed.
import { present, quantile } from "../statistics.js";
import type { SeenScene } from "./seen-scene.js";

/** What a change of a constant changed. */
export interface Difference {
  readonly scenes: number;
  /** Scenes in which anything in the findings is another than before. */
  readonly changed: number;
  /** Scenes whose first part was wrong and is right, was right and is wrong, and is another of neither kind. */
  readonly forRight: number;
  readonly forWrong: number;
  readonly otherFirst: number;
  /** Hotspots where nothing heats, more (or fewer) than before, in all scenes together. */
  readonly falseHotspots: number;
  /** Change of the watts' median relative error, over scenes in which both state watts of the fault. */
  readonly wattsError: number | null;
  /** Largest change of a probability, of a named part or of none of them. */
  readonly chance: number;
  /** Change of the mean squared error of all probabilities of parts, per scene: above 0 is worse. */
  readonly squaredError: number;
  /** Scenes that a changed tool could not be asked about: it failed. */
  readonly failures: number;
}

/** Compare two versions of the tool on the same scenes. */
export function compareSeen(before: readonly SeenScene[], after: readonly SeenScene[]): Difference {
  const pairs = after.map((now): [SeenScene, SeenScene] => {
    const then = before.find(({ scene }) => scene === now.scene);
    if (then === undefined) throw new Error(`the tool as it is was not asked about ${now.scene}`);
    return [then, now];
  });
  const count = (is: (then: SeenScene, now: SeenScene) => boolean): number =>
    pairs.filter(([then, now]) => is(then, now)).length;
  const sum = (of: (then: SeenScene, now: SeenScene) => number): number =>
    pairs.reduce((total, [then, now]) => total + of(then, now), 0);
  const bothState = pairs.filter(([then, now]) => then.wattsError !== null && now.wattsError !== null);
  const median = (which: 0 | 1): number | null =>
    quantile(present(bothState.map((pair) => pair[which].wattsError)), 0.5);
  const [wattsBefore, wattsAfter] = [median(0), median(1)];
  return {
    scenes: pairs.length,
    changed: count((then, now) => then.hash !== now.hash),
    forRight: count((then, now) => then.right === false && now.right === true),
    forWrong: count((then, now) => then.right === true && now.right === false),
    otherFirst: count((then, now) => then.first !== now.first && then.right === now.right),
    falseHotspots: sum((then, now) => now.falseAlarms - then.falseAlarms),
    wattsError: wattsBefore === null || wattsAfter === null ? null : wattsAfter - wattsBefore,
    chance: Math.max(0, ...pairs.map(([then, now]) => largestChange(then.chances, now.chances))),
    squaredError: sum((then, now) => squared(now) - squared(then)) / Math.max(1, pairs.length),
    failures: count((then, now) => then.error === null && now.error !== null),
  };
}

/** A part that is not named has no chance worth stating. */
function largestChange(then: SeenScene["chances"], now: SeenScene["chances"]): number {
  const names = new Set([...Object.keys(then), ...Object.keys(now)]);
  // With nothing named all of it is left to none of the named.
  const of = (chances: SeenScene["chances"], name: string): number =>
    chances[name] ?? (name === "none" && Object.keys(chances).length === 0 ? 1 : 0);
  return Math.max(0, ...[...names].map((name) => Math.abs(of(then, name) - of(now, name))));
}

const squared = ({ calls }: SeenScene): number =>
  calls.reduce((sum, [chance, cameTrue]) => sum + (chance - (cameTrue ? 1 : 0)) ** 2, 0);
