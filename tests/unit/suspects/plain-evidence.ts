// tests: a suspect of whom all speaks for, to be changed where a test wants it otherwise.
import type { SuspectEvidence } from "../../../src/suspects/explain-suspect.js";

/** A part that surely heats, with nothing odd about it. */
export const PLAIN: SuspectEvidence = {
  ref: "U7",
  powerW: 0.241,
  powerSigmaW: 0.032,
  peakRiseK: 6.1,
  evidence: 900,
  distanceMm: 0,
  sigmaMm: 0.11,
  farSide: false,
  bodyShare: 0.3,
  normallyWarm: false,
  runnerUp: null,
  shiny: false,
};
