// evaluate: a simulated repair → the evidence of its job, and whether it names the right part.
import { compareFindings } from "../../src/compare/compare-findings.js";
import type { Evidence } from "../../src/evidence/evidence-schema.js";
import { type WeighJobOptions, weighJob } from "../../src/evidence/weigh-job.js";
import type { Findings } from "../../src/findings/findings-schema.js";
import type { TrueChange } from "../simulate/make-job.js";
import type { Repair } from "../simulate/make-repair.js";
import type { Scene } from "../simulate/scene.js";
import { type ToldStep, tellJob } from "../simulate/tell-job.js";
import { findingsOf, viewWithoutClicks } from "./figures/jobs.js";
import { type JobScore, scoreJob } from "./score-job.js";
import type { Analyse } from "./tool-chain.js";

/** Analyse a repair's attempts and put them into a job. The wrong part that is replaced is the one that the evidence so
 *  far holds for the most probable of those that are not at fault: what someone might really replace.
 *  @param known findings of scenes that were analysed before; what is found is added.
 */
export function tellRepair(
  analyse: Analyse,
  repair: Repair,
  known: Map<Scene, Findings> = new Map(),
): ToldStep[] {
  const told: ToldStep[] = [];
  for (const step of repair.steps) {
    if ("scene" in step) {
      const findings = known.get(step.scene) ?? findingsOf(analyse, step.scene);
      known.set(step.scene, findings);
      told.push({ findings, side: step.side });
      continue;
    }
    const ref = step.replaced ?? likelyWrong(weighJob(tellJob(repair.board, told)), repair);
    told.push({ action: { did: "replaced", ref } });
  }
  return told;
}

/** Weigh what was told, and say whether the right part stands first: the one that is still at fault; once all are
 *  mended, one that was, before any that never was.
 */
export function scoreRepair(
  repair: Repair,
  told: readonly ToldStep[],
  options: WeighJobOptions = {},
): { evidence: Evidence; right: boolean; named: boolean; mendedRight: boolean } {
  const evidence = weighJob(tellJob(repair.board, told), options);
  const mended = repair.kind.endsWith("right");
  const wanted = mended ? repair.faults : repair.faults.slice(0, 1);
  const firsts = evidence.suspects.slice(0, wanted.length).map(({ ref }) => ref);
  const right = wanted.every((ref) => firsts.includes(ref));
  const named = new RegExp(`^${wanted[0]}\\b|^${wanted.at(-1)}\\b`).test(evidence.verdict);
  return { evidence, right, named, mendedRight: evidence.mended > 0.5 === mended };
}

/** The same repair with the views of later attempts found from the first one's, without fiducials, where that can be
 *  relied on.
 *  @returns null where it can for none of them.
 */
export function placeRepair(repair: Repair): Repair | null {
  const first = repair.steps.find((step) => "scene" in step);
  if (first === undefined) return null;
  let placed = false;
  const steps = repair.steps.map((step) => {
    if (!("scene" in step) || step === first) return step;
    const view = viewWithoutClicks(first.scene, step.scene);
    if (view === null) return step;
    placed = true;
    return { ...step, scene: { ...step.scene, view } };
  });
  return placed ? { ...repair, steps } : null;
}

/** Compare each attempt with the one before it, and count the parts whose change is told right. */
export function scoreChanges(
  repair: Repair,
  told: readonly ToldStep[],
): Pick<JobScore, "parts" | "right" | "unseenTold" | "wrong"> {
  const scenes = repair.steps.flatMap((step) => ("scene" in step ? [step] : []));
  const found = told.flatMap((step) => ("findings" in step ? [step.findings] : []));
  const sum = { parts: 0, right: 0, unseenTold: 0, wrong: [] as string[] };
  for (let k = 1; k < scenes.length; k++) {
    const changes = changesBetween(scenes[k - 1]!, scenes[k]!);
    const score = scoreJob({ changes }, compareFindings(found[k - 1]!, found[k]!));
    sum.parts += score.parts;
    sum.right += score.right;
    sum.unseenTold += score.unseenTold;
    sum.wrong.push(...score.wrong.map((text) => `${k}→${k + 1} ${text}`));
  }
  return sum;
}

type SeenScene = Extract<Repair["steps"][number], { scene: Scene }>;

function changesBetween(before: SeenScene, after: SeenScene): TrueChange[] {
  const sources = [before, after].map(({ scene }) => scene.truth.sources);
  const parts = new Map(sources.flat().map((source) => [source.ref, source]));
  return [...parts.values()].map(({ ref, side, fault }): TrueChange => {
    const watts = sources.map((all) => all.find((one) => one.ref === ref)?.watts ?? 0);
    const [a, b] = [watts[0]!, watts[1]!];
    return {
      ref,
      side,
      fault,
      watts: [a, b],
      outOfSight: side !== before.side || side !== after.side,
      change: a > 0 && b > 0 ? "persisted" : a > 0 ? "gone" : "new",
    };
  });
}

function likelyWrong({ suspects }: Evidence, { faults, board }: Repair): string {
  const wrong = suspects.find(({ ref, state }) => !faults.includes(ref) && state !== "normallyWarm");
  return wrong?.ref ?? board.regions.find(({ ref }) => !faults.includes(ref))!.ref;
}
