// evaluate: a simulated repair → the evidence of its job, and whether it names the right part.

import type { Evidence } from "../../src/evidence/evidence-schema.js";
import { type WeighJobOptions, weighJob } from "../../src/evidence/weigh-job.js";
import type { Repair } from "../simulate/make-repair.js";
import { type ToldStep, tellJob } from "../simulate/tell-job.js";
import { findingsOf } from "./figures/jobs.js";
import type { Analyse } from "./tool-chain.js";

/** Analyse a repair's attempts and put them into a job. The wrong part that is replaced is the one that the evidence so far
 *  holds for the most probable of those that are not at fault: what someone might really replace.
 */
export function tellRepair(analyse: Analyse, repair: Repair): ToldStep[] {
  const told: ToldStep[] = [];
  for (const step of repair.steps) {
    if ("scene" in step) {
      told.push({ findings: findingsOf(analyse, step.scene), side: step.side });
      continue;
    }
    const ref = step.replaced ?? likelyWrong(weighJob(tellJob(repair.board, told)), repair);
    told.push({ action: { did: "replaced", ref } });
  }
  return told;
}

/** Weigh what was told, and say whether the right part stands first: the one that is still at fault; once all are mended, one
 *  that was, before any that never was.
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

function likelyWrong({ suspects }: Evidence, { faults, board }: Repair): string {
  const wrong = suspects.find(({ ref, state }) => !faults.includes(ref) && state !== "normallyWarm");
  return wrong?.ref ?? board.regions.find(({ ref }) => !faults.includes(ref))!.ref;
}
