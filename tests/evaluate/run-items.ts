// evaluate: scenes and trials, one after the other → their scores and values; the work of one process.
import { makeScene } from "../simulate/make-scene.js";
import type { Kind, Scene } from "../simulate/scene.js";
import type { Answer } from "./answer.js";
import { SPECIAL_FIGURES, type TrialValues } from "./figures/special.js";
import { plainAnswer } from "./plain-chain.js";
import { type Score, scoreAnswer, scoreFailure } from "./score.js";
import { type Analyse, loadAnalyse, toolAnswer } from "./tool-chain.js";

/** A version of the tool: its name and the options that make it. */
export interface Variant {
  readonly name: string;
  readonly options: Readonly<Record<string, unknown>>;
}

/** One thing to do. */
export type Item =
  | {
      readonly type: "scene";
      readonly kind: Kind;
      readonly seed: number;
      /** Versions of the tool to be asked; all see the same scene. */
      readonly variants: readonly Variant[];
      readonly plain: boolean;
    }
  | { readonly type: "trial"; readonly figure: string; readonly index: number; readonly seed: number };

/** A trial of a special figure, and what it measured. */
export interface Trial {
  readonly figure: string;
  readonly index: number;
  readonly seed: number;
  readonly values: TrialValues;
  readonly error: string | null;
}

/** What came of an item. */
export interface Outcome {
  readonly scores: readonly Score[];
  readonly trials: readonly Trial[];
}

/** Do one item. */
export async function runItem(item: Item, load: () => Promise<Analyse> = loadAnalyse): Promise<Outcome> {
  if (item.type === "trial") return { scores: [], trials: [await runTrial(item, load)] };
  const scene = makeScene(item.kind, item.seed);
  const scores: Score[] = [];
  if (item.variants.length > 0) {
    const analyse = await load();
    for (const { name, options } of item.variants) {
      scores.push(scoreChain(scene, "faultglow", name, () => toolAnswer(analyse, scene, options)));
    }
  }
  if (item.plain) scores.push(scoreChain(scene, "plain", "whole", () => plainAnswer(scene)));
  return { scores, trials: [] };
}

async function runTrial(
  { figure, index, seed }: Item & { type: "trial" },
  load: () => Promise<Analyse>,
): Promise<Trial> {
  const special = SPECIAL_FIGURES.find((one) => one.name === figure);
  if (special === undefined) throw new Error(`no special figure is called "${figure}"`);
  try {
    const values = await special.run(await load(), index, seed);
    return { figure, index, seed, values, error: null };
  } catch (error) {
    return { figure, index, seed, values: {}, error: textOf(error) };
  }
}

function scoreChain(scene: Scene, chain: Score["chain"], variant: string, answer: () => Answer): Score {
  const start = performance.now();
  try {
    const given = answer();
    return scoreAnswer(scene, chain, given, performance.now() - start, variant);
  } catch (error) {
    return scoreFailure(scene, chain, textOf(error), performance.now() - start, variant);
  }
}

function textOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error);
}

// Started as a child of the queue: items come one at a time, their outcomes go back.
if (process.send !== undefined && process.argv[2] === "child") {
  process.on("message", (item: Item) => {
    runItem(item)
      .then((outcome) => process.send?.(outcome))
      .catch((error: unknown) => {
        process.stderr.write(`${textOf(error)}\n`);
        process.exitCode = 1;
        process.disconnect();
      });
  });
}
