// evaluate: simulated jobs of two attempts on one board → how often the comparison tells right what became of each
// part's heat.
import { averageFrames } from "../../../src/clean/average-frames.js";
import { compareFindings } from "../../../src/compare/compare-findings.js";
import type { Findings } from "../../../src/findings/findings-schema.js";
import { placeNewView } from "../../../src/place/place-new-view.js";
import { JOB_KINDS, makeJob } from "../../simulate/make-job.js";
import type { Scene } from "../../simulate/scene.js";
import { shareFigure } from "../figure.js";
import { scoreJob } from "../score-job.js";
import { shareOf, shareOfCount } from "../statistics.js";
import { type Analyse, asFrame } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

export const JOBS: SpecialFigure = {
  name: "jobs",
  trials: 105,
  run: async (analyse, index, seed) => runTrial(analyse, index, seed),
  summarise: (trials) => {
    const sum = (key: string) => trials.reduce((total, trial) => total + Number(trial[key] ?? 0), 0);
    const share = (key: string, among: string) => shareOfCount(sum(key), sum(among));
    return [
      shareFigure(
        "jobs: changes of parts told right",
        share("right", "parts"),
        { atLeast: 0.97 },
        { atLeast: 0.99 },
      ),
      shareFigure(
        "  without fiducials for the later attempt",
        share("placedRight", "placedParts"),
        { atLeast: 0.95 },
        { atLeast: 0.97 },
      ),
      shareFigure("  the same jobs with them", share("clickedRight", "clickedParts"), null, null),
      shareFigure(
        "jobs: out of sight, and said to be gone or new",
        share("unseenTold", "parts"),
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
  const before = findingsOf(analyse, job.before);
  const comparison = compareFindings(before, findingsOf(analyse, job.after));
  const { parts, right, unseenTold, verdictRight, wrong } = scoreJob(job, comparison);
  const faults = [...wrong, ...(verdictRight ? [] : [`verdict: ${comparison.verdict}`])];
  const told = {
    kind: JOB_KINDS.indexOf(kind),
    parts,
    right,
    unseenTold,
    verdictRight,
    wrong: faults.length === 0 ? "" : `${kind} ${job.seed}: ${faults.join("; ")}`,
  };
  const view = viewWithoutClicks(job.before, job.after);
  if (view === null) return told;
  const placed = scoreJob(job, compareFindings(before, findingsOf(analyse, { ...job.after, view })));
  // Beside them the clicked view's, of the same jobs.
  return {
    ...told,
    placedParts: placed.parts,
    placedRight: placed.right,
    clickedParts: parts,
    clickedRight: right,
  };
}

/** The later attempt's view from the earlier one's, where it shows the same side and can be placed. */
export function viewWithoutClicks(before: Scene, after: Scene): Scene["view"] | null {
  if (before.view.side !== after.view.side) return null;
  const earlier = { frame: averageFrames(before.baseline).mean, view: before.view };
  const found = placeNewView(earlier, averageFrames(after.baseline).mean, before.board);
  return found.trusted ? found.view : null;
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
