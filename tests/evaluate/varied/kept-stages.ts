// evaluate: what the unchanged tool made of a scene, kept: stages before a changed constant are not done again.
import { isDeepStrictEqual } from "node:util";

/** Stages whose results are kept: functions of `analyse`, each from its file under `src/findings`. */
export const KEPT_STAGES = Object.freeze({
  prepareViews: "prepare-views",
  findOnBoard: "find-on-board",
});
export type KeptStage = keyof typeof KEPT_STAGES;

/** Stands in the place of a stage: does its work, or gives what was kept. */
type InPlace = (work: (...given: unknown[]) => unknown, given: unknown[]) => unknown;

/** What stands in the place of the stages, told before each scene what it is about. */
export interface StageKeeper extends Readonly<Record<KeptStage, InPlace>> {
  /** @param reached stages in whose files the changed constant stands; null: nothing is changed, and all is kept. */
  readonly begin: (scene: string, reached: ReadonlySet<KeptStage> | null) => void;
}

/** Views of which only what was prepared is compared: where the board lies in them is no work of a constant. */
type Views = readonly { readonly pair: unknown; readonly detected: unknown }[];

export function keepStages(): StageKeeper {
  const kept = new Map<string, { views: Views; found: unknown }>();
  let scene = "";
  let reached: ReadonlySet<KeptStage> | null = null;
  return {
    begin: (nextScene, nextReached) => {
      scene = nextScene;
      reached = nextReached;
    },
    prepareViews: (work, given) => {
      const own = kept.get(scene);
      if (reached === null || own === undefined) {
        const views = work(...given) as Views;
        if (reached === null) kept.set(scene, { views, found: undefined });
        return views;
      }
      if (!reached.has("prepareViews")) return own.views;
      const views = work(...given) as Views;
      // Equal pictures need no second fit.
      return isDeepStrictEqual(prepared(views), prepared(own.views)) ? own.views : views;
    },
    findOnBoard: (work, given) => {
      const own = kept.get(scene);
      if (reached !== null && own?.views === given[0] && !reached.has("findOnBoard")) return own!.found;
      const found = work(...given);
      if (reached === null && own !== undefined) own.found = found;
      return found;
    },
  };
}

const prepared = (views: Views): unknown => views.map(({ pair, detected }) => ({ pair, detected }));
