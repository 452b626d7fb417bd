// simulate: findings, actions and readings in their order → the job that they make, in memory.
import type { BoardMap } from "../../src/board/board-schema.js";
import type { Findings } from "../../src/findings/findings-schema.js";
import type { Action } from "../../src/job/entry-schema.js";
import type { Job, JobAttempt } from "../../src/job/job.js";
import type { Reading, Reference } from "../../src/readings/reading-schema.js";

/** One line of the journal. */
export type ToldStep =
  | {
      readonly findings: Findings;
      readonly side: "top" | "bottom";
      /** The same for attempts from one camera position; by default each is its own. */
      readonly view?: string | undefined;
      readonly healthy?: boolean | undefined;
      readonly withoutBoard?: boolean | undefined;
    }
  | { readonly action: Action }
  | { readonly reading: Reading }
  | { readonly reference: Reference };

const AT = "2026-03-04T10:00:00+01:00";
const HASH = "0".repeat(64);
const TOOL = { name: "faultglow" as const, version: "0.0.1" };

/** Make a job on one board; its first line is the map. */
export function tellJob(board: BoardMap, steps: readonly ToldStep[]): Job {
  const job = {
    header: {
      kind: "faultglow/job" as const,
      version: 1 as const,
      id: "0123456789abcdef",
      createdAt: AT,
      device: "lamp driver",
      complaint: null,
      symptom: null,
      remark: null,
      tool: TOOL,
    },
    boards: [{ seq: 1, at: AT, name: "main", file: "board.json", sha256: HASH, map: board }],
    attempts: [] as JobAttempt[],
    readings: [] as Job["readings"][number][],
    references: [] as Job["references"][number][],
    actions: [] as Job["actions"][number][],
    remarks: [],
    entries: [],
    withdrawn: new Set<number>(),
    seal: HASH,
  };
  steps.forEach((step, k) => {
    const told = { seq: k + 2, at: AT };
    if ("findings" in step)
      job.attempts.push({ ...told, ...tellAttempt(step, job.attempts.length + 1, board) });
    else if ("action" in step) job.actions.push({ ...step.action, ...told });
    else if ("reading" in step) job.readings.push({ ...step.reading, ...told });
    else job.references.push({ ...step.reference, ...told });
  });
  return job;
}

function tellAttempt(
  step: Extract<ToldStep, { findings: Findings }>,
  number: number,
  map: BoardMap,
): Omit<JobAttempt, "seq" | "at"> {
  const { findings, side, view = `${side}${number}`, healthy = false, withoutBoard = false } = step;
  const frame = { sha256: HASH, ending: ".csv", bytes: 1, name: "frame.csv" };
  const kept = { sha256: view, file: "view.json", side };
  return {
    board: withoutBoard ? null : map,
    views: [null],
    findings,
    attempt: {
      kind: "faultglow/attempt",
      version: 1,
      number,
      at: AT,
      board: withoutBoard ? null : { name: "main", sha256: HASH, file: "board.json" },
      views: [{ baseline: [frame], powered: [frame], view: withoutBoard ? null : kept }],
      conditions: { volts: null, amps: null, limitA: null, rail: null, connected: [], remark: null, healthy },
      options: { scale: null, unit: null, rateHz: null, cycleS: null, falseAlarmsPerFrame: null },
      tool: TOOL,
      files: {},
    },
  };
}
