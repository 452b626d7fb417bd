// evidence: a job → what of it counts, by part, attempt, change and net.
import type { BoardMap } from "../board/board-schema.js";
import { compareFindings } from "../compare/compare-findings.js";
import type { Comparison } from "../compare/comparison-schema.js";
import { ToolError } from "../core/errors.js";
import type { Job, JobAttempt } from "../job/job.js";
import {
  classifyReadings,
  type JudgedReading,
  type ReadingFigures,
  sameName,
} from "../readings/classify-readings.js";
import { pulledNets } from "../readings/net-likelihood.js";
import { netVerdicts } from "../readings/net-verdicts.js";
import type { BoardChange, JobPart } from "./fault-modes.js";
import { partKey, type SeenAttempt, SURELY_WARM, seeAttempt } from "./seen-attempt.js";
import type { JobEvidence } from "./weigh-faults.js";

/** A job, gathered. */
export interface GatheredJob extends JobEvidence {
  readonly readings: readonly JudgedReading[];
  /** Maps by the name of the board, the last of each name. */
  readonly maps: ReadonlyMap<string, BoardMap>;
  /** Attempts that follow one another on one board, compared. */
  readonly comparisons: readonly ComparedAttempts[];
}

/** Two attempts that follow one another. */
interface ComparedAttempts {
  readonly before: SeenAttempt;
  readonly after: SeenAttempt;
  readonly comparison: Comparison;
}

/** Gather what a job holds. Attempts on good boards say which parts are warm there too, and nothing else. Everything
 *  that was done to the device begins a new state of it.
 *  @param figures tolerances and limits that readings are judged by, in place of the usual ones.
 */
export function gatherJob(job: Job, figures: ReadingFigures = {}): GatheredJob {
  const maps = new Map<string, BoardMap>(job.boards.map(({ name, map }) => [name, map]));
  for (const { attempt, board } of job.attempts) {
    const name = attempt.board?.name ?? "";
    if (board !== null && !maps.has(name)) maps.set(name, board);
  }
  const parts = [...maps].flatMap(([name, map]) => partsOf(name, map));
  const changes = job.actions.map(({ seq, did, ref, board }): BoardChange => {
    const keys =
      ref === undefined ? [] : parts.filter((part) => isNamed(part, ref, board)).map(({ key }) => key);
    return { seq, did, keys, everywhere: ref === undefined && did === "cleaned" };
  });
  const stateAt = (seq: number) => changes.filter((change) => change.seq < seq).length;
  const healthy = warmOnGoodBoards(job.attempts);
  const attempts = job.attempts
    .filter(({ attempt }) => !attempt.conditions.healthy)
    .map(({ seq, attempt, findings }): SeenAttempt => {
      const sides = attempt.views.flatMap(({ view }) => (view === null ? [] : [view.side]));
      return seeAttempt(
        findings,
        {
          number: attempt.number,
          seq,
          state: stateAt(seq),
          board: attempt.board?.name ?? "",
          sides: [...new Set(sides)],
          placed: attempt.board !== null && sides.length > 0,
          viewKey: attempt.views.map(({ view }, k) => view?.sha256 ?? `${attempt.number}.${k}`).join(" "),
        },
        healthy,
      );
    });
  const readings = classifyReadings(job.readings, job.references, {
    ...figures,
    changes: changes.map(({ seq }) => seq),
  });
  return {
    parts,
    attempts,
    changes,
    readings,
    nets: netVerdicts(readings),
    maps,
    comparisons: compareAll(attempts),
  };
}

/** Compare each attempt with the one before it on its board; those that can't be compared are left out. */
function compareAll(attempts: readonly SeenAttempt[]): ComparedAttempts[] {
  return attempts.flatMap((after, k) => {
    const before = attempts.slice(0, k).findLast(({ board }) => board === after.board);
    if (before === undefined || !before.placed || !after.placed) return [];
    try {
      return [{ before, after, comparison: compareFindings(before.findings, after.findings) }];
    } catch (error) {
      if (error instanceof ToolError) return [];
      throw error;
    }
  });
}

function partsOf(board: string, map: BoardMap): JobPart[] {
  return map.regions.map(({ ref, side, nets = [], normallyWarm = false }) => ({
    key: partKey(board, ref),
    ref,
    board,
    side,
    nets: pulledNets(nets),
    normallyWarm,
  }));
}

function isNamed(part: JobPart, ref: string, board: string | undefined): boolean {
  return (
    sameName(part.ref) === sameName(ref) && (board === undefined || sameName(board) === sameName(part.board))
  );
}

function warmOnGoodBoards(attempts: readonly JobAttempt[]): Set<string> {
  const warm = new Set<string>();
  for (const { attempt, findings } of attempts) {
    if (!attempt.conditions.healthy) continue;
    for (const { nearest } of findings.hotspots) {
      const first = nearest[0];
      if (first !== undefined && first.probability >= SURELY_WARM) warm.add(first.ref);
    }
  }
  return warm;
}
