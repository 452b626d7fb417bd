// evaluate: a list of kinds and seeds → their scores; the work of one process.
import { makeScene } from "../simulate/make-scene.js";
import type { Kind, Scene } from "../simulate/scene.js";
import type { Answer } from "./answer.js";
import { plainAnswer } from "./plain-chain.js";
import { type Score, scoreAnswer, scoreFailure } from "./score.js";
import { loadTool } from "./tool-chain.js";

/** What one process is to do. */
export interface Work {
  readonly scenes: readonly { readonly kind: Kind; readonly seed: number }[];
  /** Options handed to the tool; null leaves the tool out. */
  readonly toolOptions: Readonly<Record<string, unknown>> | null;
  readonly plain: boolean;
}

/** Make each scene and score the chains on it. `report` is called after each scene. */
export async function runScenes(work: Work, report: (scores: readonly Score[]) => void): Promise<void> {
  const tool = work.toolOptions === null ? null : await loadTool(work.toolOptions);
  for (const { kind, seed } of work.scenes) {
    const scene = makeScene(kind, seed);
    const scores: Score[] = [];
    if (tool !== null) scores.push(scoreChain(scene, "faultglow", tool));
    if (work.plain) scores.push(scoreChain(scene, "plain", plainAnswer));
    report(scores);
  }
}

function scoreChain(scene: Scene, chain: Score["chain"], answer: (scene: Scene) => Answer): Score {
  const start = performance.now();
  try {
    const given = answer(scene);
    return scoreAnswer(scene, chain, given, performance.now() - start);
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return scoreFailure(scene, chain, text, performance.now() - start);
  }
}

// Started as a child of evaluate.ts: work comes as a message, scores go back the same way.
if (process.send !== undefined && process.argv[2] === "child") {
  process.on("message", (work: Work) => {
    runScenes(work, (scores) => process.send?.(scores))
      .then(() => process.disconnect())
      .catch((error: unknown) => {
        process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
        process.exitCode = 1;
        process.disconnect();
      });
  });
}
