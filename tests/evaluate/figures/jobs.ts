// evaluate: simulated jobs of two attempts on one board → how often the comparison tells right what became of each part's heat.
import { compareFindings } from "../../../src/compare/compare-findings.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { JOB_KINDS, makeJob } from "../../simulate/make-job.js";
import type { Scene } from "../../simulate/scene.js";
import { shareFigure } from "../figure.js";
import { scoreJob } from "../score-job.js";
import { shareOf } from "../statistics.js";
import { type Analyse, asFrame } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

export const JOBS: SpecialFigure = {
  name: "jobs",
  trials: 105,
  run: async (analyse, index, seed) => runTrial(analyse, index, seed),
  summarise: (trials) => {
    const sum = (key: string) => trials.reduce((total, trial) => total + Number(trial[key] ?? 0), 0);
    const parts = Array.from({ length: sum("parts") }, (_, k) => k < sum("right"));
    const unseen = Array.from({ length: sum("parts") }, (_, k) => k < sum("unseenTold"));
    return [
      shareFigure("jobs: changes of parts told right", shareOf(parts), { atLeast: 0.97 }, { atLeast: 0.99 }),
      shareFigure(
        "jobs: out of sight, and said to be gone or new",
        shareOf(unseen),
        { atMost: 0 },
        { atMost: 0 },
      ),
      shareFigure(
        "jobs: verdict names the fault, or says it is gone",
        shareOf(trials.map((trial) => trial["verdictRight"] === true)),
        { atLeast: 0.95 },
        { atLeast: 0.98 },
      ),
    ];
  },
};

function runTrial(analyse: Analyse, index: number, seed: number): TrialValues {
  const kind = JOB_KINDS[index % JOB_KINDS.length]!;
  const job = makeJob(kind, 1000 * seed + Math.floor(index / JOB_KINDS.length));
  const comparison = compareFindings(findingsOf(analyse, job.before), findingsOf(analyse, job.after));
  const { parts, right, unseenTold, verdictRight } = scoreJob(job, comparison);
  return { kind: JOB_KINDS.indexOf(kind), parts, right, unseenTold, verdictRight };
}

/** The whole of what the tool finds in an attempt. */
export function findingsOf(analyse: Analyse, scene: Scene): Findings {
  const frames = (some: Scene["baseline"]) => some.map((one, i) => asFrame(one, i));
  const { findings } = analyse({
    baseline: frames(scene.baseline),
    powered: frames(scene.powered),
    board: scene.board,
    view: scene.view,
    volts: scene.volts,
    amps: scene.amps,
  });
  // What is measured of findings elsewhere is written down anew; here all of it goes on into the comparison.
  return findings as unknown as Findings;
}
