// findings: the shape of findings.json and of `find --json` → a schema that reads and describes it.
import { z } from "zod";

const point = z.tuple([z.number(), z.number()]);
const side = z.enum(["top", "bottom"]);

/** What an input file was. */
export const inputFileSchema = z.object({
  file: z.string().nullable(),
  sha256: z.string().nullable(),
  width: z.int().positive(),
  height: z.int().positive(),
});

/** Marks on a hotspot; where a mark is set the numbers deserve a second look. */
export const HOTSPOT_FLAGS = Object.freeze({
  frameEdge: "the spot is cut by the frame's edge",
  outlineEdge: "the spot lies on the board's outline",
  saturated: "the camera's scale ends inside the spot: its peak is a lower bound",
  noReading: "pixels without a reading lie inside the spot",
  possibleReflection: "heat and a reflection can't be told apart here",
  weakAlignment: "the frames could not be aligned with confidence",
} as const);
export type HotspotFlag = keyof typeof HOTSPOT_FLAGS;

export const hotspotSchema = z.object({
  rank: z.int().positive(),
  peakRiseK: z.number(),
  /** Brightest pixel of the smoothed rise, baseline frame. */
  peakPx: point,
  /** Sub-pixel place of the source, baseline frame. */
  sourcePx: point,
  sourceSigmaPx: z.number(),
  sourceMm: point.nullable(),
  sourceSigmaMm: z.number().nullable(),
  areaPx: z.int().nonnegative(),
  areaMm2: z.number().nullable(),
  /** Gaussian width of the spot, px. */
  widthPx: z.number().nullable(),
  /** Sum of the rise over the spot's area, K·px. */
  excessKPx: z.number(),
  /** Smoothed peak ÷ noise at that scale. */
  significance: z.number(),
  powerW: z.number().nullable(),
  powerSigmaW: z.number().nullable(),
  onsetS: z.number().nullable(),
  flags: z.array(z.string()),
  nearest: z.array(
    z.object({ ref: z.string(), side, distanceMm: z.number(), probability: z.number().min(0).max(1) }),
  ),
});

export const suspectSchema = z.object({
  ref: z.string(),
  side,
  probability: z.number().min(0).max(1),
  powerW: z.number().nullable(),
  normallyWarm: z.boolean(),
  hotspot: z.int().positive().nullable(),
  why: z.array(z.string()),
});

export const ARTEFACT_KINDS = ["reflection", "edge", "drift", "pixel", "saturation", "outside"] as const;
export type ArtefactKind = (typeof ARTEFACT_KINDS)[number];

export const artefactSchema = z.object({
  kind: z.enum(ARTEFACT_KINDS),
  px: point,
  areaPx: z.int().nonnegative(),
  riseK: z.number().nullable(),
  reason: z.string(),
});

export const findingsSchema = z.object({
  kind: z.literal("faultglow/findings"),
  version: z.literal(1),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  inputs: z.object({
    baseline: z.array(inputFileSchema),
    powered: z.array(inputFileSchema),
    board: z.string().nullable(),
    view: z.string().nullable(),
    scale: z.object({ lowC: z.number(), highC: z.number() }).nullable(),
    rateHz: z.number().nullable(),
    volts: z.number().nullable(),
    amps: z.number().nullable(),
  }),
  /** The options that made these findings, defaults resolved. */
  options: z.record(z.string(), z.unknown()),
  alignment: z.object({
    dxPx: z.number(),
    dyPx: z.number(),
    rotationDeg: z.number(),
    uncertaintyPx: z.number(),
    trusted: z.boolean(),
  }),
  /** White noise of one pixel of the averaged difference, and the noise at the scale that is tested. */
  noise: z.object({ sigmaK: z.number(), testedSigmaK: z.number() }),
  threshold: z.object({ riseK: z.number(), falseAlarmsPerFrame: z.number() }),
  hotspots: z.array(hotspotSchema),
  suspects: z.array(suspectSchema),
  artefacts: z.array(artefactSchema),
  unexplained: z.number().min(0).max(1).nullable(),
  verdict: z.string(),
  nextStep: z.string().nullable(),
  notes: z.array(z.object({ code: z.string(), severity: z.enum(["info", "warning"]), text: z.string() })),
});

export type InputFile = z.infer<typeof inputFileSchema>;
export type Hotspot = z.infer<typeof hotspotSchema>;
export type Suspect = z.infer<typeof suspectSchema>;
export type Artefact = z.infer<typeof artefactSchema>;
export type Findings = z.infer<typeof findingsSchema>;
