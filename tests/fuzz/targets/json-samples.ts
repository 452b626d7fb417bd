// fuzz: one valid value, or a few, of every kind of JSON file.
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { makeProfile } from "../../../src/compare/make-profile.js";
import { draftOf } from "../../../src/page/draw/model/draft.js";
import { drawingOf, FRAME, placementOf } from "../../../src/page/draw/model/drawing.js";
import { makeBoard, makeView } from "../../cli/make-frames.js";
import { makeFindings } from "../../unit/compare/make-findings.js";

const written = (value: unknown): unknown => JSON.parse(JSON.stringify(value));
const hash = (digit: string): string => digit.repeat(64);
const AT = "2031-03-01T08:05:00Z";

const heat = {
  heat: [
    { ref: "C6", powerW: 0.1 },
    { ref: "U1", powerW: 0.4 },
  ],
};

export const BOARD = makeBoard();
export const VIEW = makeView();
export const SCALES: readonly unknown[] = [
  { kind: "faultglow/scale", version: 1, lowC: 15.5, highC: 45 },
  { kind: "faultglow/scale", version: 1, gainCPerLevel: 0.01, offsetC: -273.15 },
];
export const FINDINGS: readonly unknown[] = [
  written(makeFindings(heat)),
  written(makeFindings({ heat: [], volts: null })),
];
export const PROFILE = written(makeProfile([makeFindings(heat), makeFindings(heat)]));
export const HEADER = {
  kind: "faultglow/job",
  version: 1,
  id: "0123456789abcdef",
  createdAt: AT,
  device: "sluice gauge K3",
  complaint: "no display",
  symptom: { text: "restarts", restartsAfterS: 3, connected: ["display"], drawsA: 0.4 },
  remark: null,
  tool: { name: "faultglow", version: "0.0.1" },
};
const frame = { sha256: hash("a"), ending: ".csv", bytes: 123, name: "off.csv", scaleBeside: null };
export const ATTEMPT = {
  kind: "faultglow/attempt",
  version: 1,
  number: 1,
  at: AT,
  board: { name: "main", sha256: hash("b"), file: "board.json" },
  views: [
    {
      baseline: [frame],
      powered: [
        {
          ...frame,
          sha256: hash("c"),
          ending: ".png",
          scaleBeside: { from: "on.json", scale: { lowC: 1, highC: 2 } },
        },
      ],
      view: { sha256: hash("d"), file: "view.json", side: "top", placed: { attempt: 1, sigmaMm: 0.1 } },
    },
  ],
  conditions: {
    volts: 1,
    amps: 0.5,
    limitA: null,
    rail: "VMAIN",
    connected: ["cell"],
    remark: null,
    healthy: false,
  },
  options: {
    scale: { gainCPerLevel: 0.01, offsetC: -273.15 },
    unit: "C",
    rateHz: 9,
    cycleS: "find",
    falseAlarmsPerFrame: null,
  },
  tool: { name: "faultglow", version: "0.0.1" },
  files: { "findings.json": hash("e"), "overlay.png": hash("f") },
};
const line = { kind: "faultglow/entry", version: 1, seq: 1, previous: "0".repeat(64), at: AT };
export const ENTRIES: readonly unknown[] = [
  { type: "board", name: "main", file: "board.json", sha256: hash("b") },
  { type: "attempt", number: 1, sha256: hash("c") },
  { type: "action", action: { did: "lifted", ref: "C6", board: "main", remark: "it was cracked" } },
  { type: "remark", text: "Übergabe 交接" },
  { type: "withdrawal", seq: 1, reason: "a slip" },
  {
    type: "reading",
    reading: { net: "VMAIN", measure: "diode", value: 0.42, overRange: false, raw: "0.42" },
  },
].map((said) => ({ ...line, said }));
/** Of a picture whose scale was said, read by this version. */
export const DROPPED = {
  kind: "faultglow/dropped",
  version: 1,
  sha256: hash("a"),
  names: ["on/1.png", "Übergabe 交接.png"],
  bytes: 123,
  at: AT,
  said: "powered",
  scale: { lowC: 15.5, highC: 45 },
  ending: ".png",
  read: {
    sort: "frame",
    frame: {
      width: 5,
      height: 4,
      frames: 1,
      lowC: 20.5,
      medianC: 24,
      highC: 41.25,
      contrastK: 9.5,
      noiseK: null,
      missing: 0,
      scaleFrom: "the option",
    },
    notes: [],
    error: null,
    tool: "0.0.1",
  },
};
/** What the bench remembers. */
export const SETTINGS: readonly unknown[] = [{ lowC: 15.5, highC: 45 }, null].map((lastScale) => ({
  kind: "faultglow/bench",
  version: 1,
  lastScale,
}));
/** Something half done; what it holds is the page's own. */
export const DRAFT = {
  kind: "faultglow/draft",
  version: 1,
  draft: { points: [[1.5, -2e-7]], name: "Übergabe 交接", done: false, of: null },
};
/** A board that is being drawn. */
export const DRAWING = written(
  draftOf({
    ...drawingOf(BOARD as BoardMap),
    placements: { [FRAME]: placementOf(VIEW as View), [hash("a")]: placementOf(VIEW as View) },
  }),
);
export const LOCK = {
  kind: "faultglow/lock",
  version: 1,
  id: "01234567-89ab-cdef-0123-456789abcdef",
  pid: 4711,
  host: "bench",
  processStart: "boot 17",
  since: AT,
};
