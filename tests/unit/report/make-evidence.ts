// The evidence and the comparison of the made-up job.
import type { Comparison } from "../../../src/compare/comparison-schema.js";
import type { Evidence } from "../../../src/evidence/evidence-schema.js";

const TOOL = { name: "faultglow", version: "0.0.1" } as const;

/** What all of the made-up job says together. */
export function makeEvidence(mended: number): Evidence {
  const suspect = {
    side: "top",
    board: null,
    nets: ["VSYS"],
    cleared: null,
    changed: [],
    against: [],
  } as const;
  const reading = {
    board: null,
    net: "VSYS",
    ref: null,
    pin: null,
    measure: "diode",
    overRange: false,
    reference: { measure: "diode", net: "VSYS", value: 0.45, overRange: false, raw: "0.45" },
    lowByNature: false,
    tolerance: 0.045,
  } as const;
  return {
    kind: "faultglow/evidence",
    version: 1,
    tool: TOOL,
    options: {},
    suspects: [
      {
        ...suspect,
        nets: [],
        changed: [],
        against: [],
        ref: "C31",
        probability: 0.81,
        stillFaulty: 0.8,
        state: "open",
        for: ["Attempt 2 gives it 93 %."],
      },
      {
        ...suspect,
        nets: [],
        ref: "U12",
        probability: 0.06,
        stillFaulty: 0.01,
        state: "cleared",
        for: ["Attempt 1 gives it 87 %."],
        against: [],
        cleared: "It was replaced, and the heat stayed.",
        changed: ["replaced"],
      },
      {
        ...suspect,
        nets: [],
        changed: [],
        against: [],
        ref: "J2",
        probability: 0.02,
        stillFaulty: 0.02,
        state: "open",
        for: [],
      },
    ],
    unexplained: 0.05,
    secondFault: 0.03,
    thirdFault: 0.002,
    mended,
    attempts: [],
    readings: [
      { ...reading, state: 0, seqs: [4], value: 0.003, class: "short", why: "0.003 V against 0.45 V" },
      { ...reading, state: 1, seqs: [8], value: 0.446, class: "asExpected", why: "0.446 V against 0.45 V" },
    ],
    verdict: "C31 is at fault (81 %).",
    next: { sentence: "Read the pins of C31 with the supply off.", gainBits: 0.4 },
  };
}

/** Its second attempt held against the first. */
export const COMPARISON: Comparison = {
  kind: "faultglow/comparison",
  version: 1,
  tool: TOOL,
  board: "made-up board",
  before: { file: "attempt 1", sides: ["top"], volts: 1.2, amps: 0.35, fedW: 0.42 },
  after: { file: "attempt 2", sides: ["top"], volts: 1.2, amps: 0.5, fedW: 0.6 },
  options: {},
  division: { by: "fed", factor: 1.43, logSigma: 0 },
  actions: [{ what: "replaced", ref: "U12" }],
  parts: [
    {
      ref: "U12",
      side: "top",
      normallyWarm: false,
      change: "gone",
      riseK: [6.1, 0.02],
      powerW: [0.244, null],
      perWatt: [0.58, null],
      z: -31,
      pValue: 1e-9,
      qValue: 1e-9,
      logRatio: null,
      logSigma: null,
      seen: [true, true],
      hotspots: [1, null],
      probability: 0.87,
      orElse: ["C32"],
      why: "The later attempt would have shown it.",
    },
  ],
  hotspots: [],
  verdict: "The heat at U12 is gone.",
  lookAt: [{ ref: "C31", side: "top", why: "it shares VSYS with U12" }],
  notes: [{ code: "N_MADE", severity: "warning", text: "a warning of the comparison" }],
};
