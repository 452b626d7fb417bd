// evaluate: a scene and a version of the tool → what of its answer is compared with that of the tool as it is.
import { createHash } from "node:crypto";
import type { Scene } from "../../simulate/scene.js";
import type { Answer } from "../answer.js";
import { type Call, type Score, scoreAnswer, scoreFailure } from "../score.js";
import { type Analyse, toolAnswer } from "../tool-chain.js";

/** What one version of the tool says of one scene. */
export interface SeenScene {
  readonly scene: string;
  readonly error: string | null;
  /** Hash of all findings. */
  readonly hash: string;
  /** The first part that is not normally warm, with its side; null if none is named. */
  readonly first: string | null;
  readonly right: boolean | null;
  readonly falseAlarms: number;
  readonly wattsError: number | null;
  readonly calls: readonly Call[];
  /** Probability of each part that is not normally warm, and of none of the named. */
  readonly chances: Readonly<Record<string, number>>;
}

/** Name of a scene in the record. */
export const sceneName = ({ kind, seed }: Pick<Scene, "kind" | "seed">): string => `${kind} ${seed}`;

/** Ask a version of the tool about a scene. */
export function seeScene(scene: Scene, analyse: Analyse): SeenScene {
  let findings: unknown = null;
  try {
    const answer = toolAnswer(
      (input, options) => {
        const analysis = analyse(input, options);
        findings = analysis.findings;
        return analysis;
      },
      scene,
      {},
    );
    return seen(scoreAnswer(scene, "faultglow", answer, 0), answer, findings);
  } catch (error) {
    const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
    return seen(scoreFailure(scene, "faultglow", text, 0), null, text);
  }
}

function seen(score: Score, answer: Answer | null, findings: unknown): SeenScene {
  const named = answer?.suspects.filter(({ normallyWarm }) => !normallyWarm) ?? [];
  const parts = named.flatMap(({ ref, side, probability }): [string, number][] =>
    probability === null ? [] : [[`${ref} ${side}`, probability]],
  );
  const rest = answer?.unexplained ?? null;
  return {
    scene: sceneName(score),
    error: score.error,
    hash: createHash("sha256").update(JSON.stringify(findings)).digest("hex").slice(0, 16),
    first: named[0] === undefined ? null : `${named[0].ref} ${named[0].side}`,
    right: score.rightFirst,
    falseAlarms: score.falseAlarms,
    wattsError: score.wattsError,
    calls: score.calls,
    chances: Object.fromEntries(rest === null ? parts : [...parts, ["none", rest]]),
  };
}
