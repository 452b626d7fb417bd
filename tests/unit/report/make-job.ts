// A made-up job for the tests of its reports: two attempts on one board, a part replaced in between, readings, a
// remark.
import type { View } from "../../../src/board/board-schema.js";
import { boardPoint } from "../../../src/core/units.js";
import type { Analysis } from "../../../src/findings/analysis.js";
import type { Entry } from "../../../src/job/entry-schema.js";
import type { Job, JobAttempt } from "../../../src/job/job.js";
import { boardRise } from "../../../src/report/board-rise.js";
import type { JobReportModel } from "../../../src/report/job-report-model.js";
import { makeAnalysis } from "./make-analysis.js";
import { COMPARISON, makeEvidence } from "./make-evidence.js";

export interface MadeJob {
  readonly device?: string;
  readonly complaint?: string;
  readonly actionRemark?: string;
  readonly remark?: string;
  readonly net?: string;
  readonly mended?: number;
}

const TOOL = { name: "faultglow", version: "0.0.1" } as const;
const AT = (minute: number): string => `2031-02-03T14:${String(minute).padStart(2, "0")}:30+01:00`;
const HASH = (letter: string): string => letter.repeat(64);

/** Make the model of a report, whole in all its parts. */
export function makeJobModel(options: MadeJob = {}): JobReportModel {
  const before = makeAnalysis({ withEnergy: true, withArtefacts: true });
  const after = makeAnalysis({ spots: [{ x: 25.4, y: 20.2, peakK: 1.7, ref: "C31", probability: 0.93 }] });
  const course = [0.5, 1, 1.5].map((timeS) => ({ timeS, riseK: 3 * timeS, sigmaK: 0.1 }));
  const burst = { ...after.findings.hotspots[0]!, course, onsetS: 0.1, onsetSigmaS: 0.05 };
  const job = makeJob(
    [
      makeAttempt(1, 3, before),
      makeAttempt(2, 7, { ...after, findings: { ...after.findings, hotspots: [burst] } }),
    ],
    options,
  );
  const rises = [before, after].map((analysis, i) => ({
    attempt: i + 1,
    view: 0,
    rise: boardRise(analysis, analysis.board!, analysis.findings.threshold.riseK)!,
  }));
  return {
    job,
    evidence: makeEvidence(options.mended ?? 0.1),
    comparisons: [{ before: 1, after: 2, comparison: COMPARISON, reason: null }],
    rises,
    tool: TOOL,
  };
}

function makeAttempt(number: number, seq: number, analysis: Analysis): JobAttempt {
  const frame = (letter: string, name: string) => ({ sha256: HASH(letter), ending: ".csv", bytes: 12, name });
  const burst = number === 2;
  return {
    seq,
    at: AT(seq),
    attempt: {
      kind: "faultglow/attempt",
      version: 1,
      number,
      at: AT(seq),
      board: { name: "made-up board", sha256: HASH("e"), file: "board.json" },
      views: [
        {
          baseline: [frame(burst ? "1" : "a", `baseline-${number}.csv`)],
          powered: [frame(burst ? "2" : "b", `powered-${number}.csv`)],
          view: { sha256: HASH("f"), file: "view.json", side: "top" },
        },
      ],
      conditions: {
        volts: 1.2,
        amps: burst ? 0.5 : 0.35,
        limitA: 1,
        rail: "VSYS",
        connected: ["display"],
        remark: null,
        healthy: false,
      },
      options: { scale: null, unit: null, rateHz: burst ? 2 : null, cycleS: null, falseAlarmsPerFrame: null },
      tool: TOOL,
      files: {},
    },
    findings: analysis.findings,
    board: analysis.board,
    views: [viewOf(analysis)],
  };
}

function viewOf({ view, baseline }: Analysis): View {
  const corners: [number, number][] = [
    [0, 0],
    [58, 0],
    [58, 34],
    [0, 34],
  ];
  return {
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width: baseline.width, height: baseline.height },
    fiducials: corners.map(([x, y]) => ({
      board: [x, y],
      pixel: [...view!.toFrame(boardPoint(x, y))] as [number, number],
    })),
  };
}

function makeJob(attempts: readonly JobAttempt[], options: MadeJob): Job {
  const board = attempts[0]!.board!;
  const reading = { measure: "diode", overRange: false } as const;
  const said: Entry["said"][] = [
    { type: "board", name: "made-up board", file: "board.json", sha256: HASH("e") },
    { type: "reference", reference: { ...reading, net: options.net ?? "VSYS", value: 0.45, raw: "0.45" } },
    { type: "attempt", number: 1, sha256: HASH("3") },
    { type: "reading", reading: { ...reading, net: options.net ?? "VSYS", value: 0.003, raw: "0.003" } },
    {
      type: "action",
      action: { did: "replaced", ref: "U12", remark: options.actionRemark ?? "with a new one" },
    },
    { type: "remark", text: options.remark ?? "a remark of the bench" },
    { type: "attempt", number: 2, sha256: HASH("4") },
    { type: "reading", reading: { ...reading, net: options.net ?? "VSYS", value: 0.446, raw: "0.446" } },
  ];
  const entries = said.map(
    (each, i): Entry => ({
      kind: "faultglow/entry",
      version: 1,
      seq: i + 1,
      previous: HASH("0"),
      at: AT(i + 1),
      said: each,
    }),
  );
  const told = (seq: number) => ({ seq, at: AT(seq) });
  return {
    header: {
      kind: "faultglow/job",
      version: 1,
      id: "0123456789abcdef",
      createdAt: AT(0),
      device: options.device ?? "Made-up meter",
      complaint: options.complaint ?? "does not start",
      symptom: { restartsAfterS: 2.5, connected: ["display"] },
      remark: null,
      tool: TOOL,
    },
    boards: [{ ...told(1), name: "made-up board", file: "board.json", sha256: HASH("e"), map: board }],
    attempts,
    readings: entries.flatMap(({ seq, said: each }) =>
      each.type === "reading" ? [{ ...each.reading, ...told(seq) }] : [],
    ),
    references: entries.flatMap(({ seq, said: each }) =>
      each.type === "reference" ? [{ ...each.reference, ...told(seq) }] : [],
    ),
    actions: entries.flatMap(({ seq, said: each }) =>
      each.type === "action" ? [{ ...each.action, ...told(seq) }] : [],
    ),
    remarks: entries.flatMap(({ seq, said: each }) =>
      each.type === "remark" ? [{ text: each.text, ...told(seq) }] : [],
    ),
    entries,
    withdrawn: new Set(),
    seal: HASH("5"),
  };
}
