// findings: the shape of findings.json and of `find --json` → a schema that reads and describes it.
import * as z from "zod";
import { noteSchema } from "../core/note-schema.js";
import { boardIdentitySchema, partSchema } from "./parts-schema.js";
import { VIEW_NAMES } from "./view-names.js";

const point = z.tuple([z.number(), z.number()]);
const side = z.enum(["top", "bottom"]);

/** A view of one attempt. */
export type ViewName = (typeof VIEW_NAMES)[number];

/** What an input file was. */
const inputFileSchema = z.object({
  file: z.string().nullable(),
  sha256: z.string().nullable(),
  width: z.int().positive(),
  height: z.int().positive(),
});

const hotspotSchema = z.object({
  rank: z.int().positive(),
  /** Which of two views shows it: positions in pixels, rise, area and flags are those of that view's baseline frame;
   *  board millimetres are the board's in any case. Absent where one view was given. */
  view: z.enum(VIEW_NAMES).optional(),
  /** Probability that its source sits on the top, and on the bottom; what is missing to 1: it is no heat. Null or
   *  absent unless both sides were seen. */
  sideOdds: z
    .object({ top: z.number().min(0).max(1), bottom: z.number().min(0).max(1) })
    .nullable()
    .optional(),
  /** The same source in the other of two views, in that view's pixels; null where it makes no peak there. `sourceMm` is
   *  then the place from both views. */
  otherView: z
    .object({
      peakRiseK: z.number(),
      peakPx: point,
      sourcePx: point,
      sourceSigmaPx: z.number(),
      widthPx: z.number().nullable(),
      significance: z.number(),
    })
    .nullable()
    .optional(),
  peakRiseK: z.number(),
  /** The same by the emissivity of what is seen there; null where its finish is not known, or mirrors the room. */
  trueRiseK: z.number().nullable().optional(),
  /** Brightest pixel of the smoothed rise, baseline frame. */
  peakPx: point,
  /** Sub-pixel place of the source, baseline frame. */
  sourcePx: point,
  sourceSigmaPx: z.number(),
  sourceMm: point.nullable(),
  sourceSigmaMm: z.number().nullable(),
  /** What of it is the error of the view: all that is seen through one view is off together. */
  viewSigmaMm: z.number().nullable().optional(),
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
  /** When it began to warm, s from power-on; null without a burst, or where no growth stands out. */
  onsetS: z.number().nullable(),
  /** … with the error of the moment of power-on, which all hotspots of a burst share. */
  onsetSigmaS: z.number().nullable().optional(),
  /** How surely it began before all others (above 0) or after one of them (below 0), sigma. */
  onsetLeadSigma: z.number().nullable().optional(),
  /** Mean growth of its height over the first second (two frames, where that is longer). */
  rateKPerS: z.number().nullable().optional(),
  rateSigmaKPerS: z.number().nullable().optional(),
  /** Its height above its surroundings in each frame of the burst that was used. */
  course: z
    .array(z.object({ timeS: z.number(), riseK: z.number(), sigmaK: z.number() }))
    .nullable()
    .optional(),
  flags: z.array(z.string()),
  nearest: z.array(
    z.object({ ref: z.string(), side, distanceMm: z.number(), probability: z.number().min(0).max(1) }),
  ),
});

const suspectSchema = z.object({
  ref: z.string(),
  side,
  probability: z.number().min(0).max(1),
  powerW: z.number().nullable(),
  normallyWarm: z.boolean(),
  hotspot: z.int().positive().nullable(),
  why: z.array(z.string()),
});

export const ARTEFACT_KINDS = ["reflection", "edge", "drift", "pixel", "saturation", "outside"] as const;

const artefactSchema = z.object({
  kind: z.enum(ARTEFACT_KINDS),
  /** Which of two views shows it, and `px` is a place in; absent where one view was given. */
  view: z.enum(VIEW_NAMES).optional(),
  px: point,
  areaPx: z.int().nonnegative(),
  riseK: z.number().nullable(),
  reason: z.string(),
});

/** Watts fed in against watts seen. */
const energySchema = z.object({
  fedW: z.number(),
  /** Sum of all fitted sources. */
  seenW: z.number(),
  seenSigmaW: z.number(),
  /** Fed minus seen. */
  missingW: z.number(),
  missingSigmaW: z.number(),
  /** What the whole board gives off to the air, by its mean rise; all of the heat once it has come to rest. */
  boardLossW: z.number().nullable(),
  boardLossSigmaW: z.number().nullable(),
  /** True where the frames show so much more heat than was fed in that the two can't both be right: watts of hotspots
   *  and suspects are then those of the frames, and don't stand. */
  exclusive: z.boolean().optional(),
  /** What the missing, or the excess, can mean, in words. */
  meaning: z.string(),
});

/** What a shiny face in view can hide. */
const limitSchema = z.object({
  ref: z.string(),
  side,
  /** Rise of the face itself that would just have been seen. */
  riseK: z.number(),
  /** Watts under it that the board around it would just have shown. */
  powerW: z.number().nullable(),
});

/** The rhythm of a supply that was switched on and off. */
const cycleSchema = z.object({
  /** One on and one off together, s. */
  periodS: z.number().positive(),
  frames: z.int().positive(),
  /** Heat goes as cos(2πt/period − phase), t from the first powered frame, degrees. */
  phaseDeg: z.number(),
  /** Chance that noise alone makes the strongest amplitude of the frame; places, and periods tried, are counted. */
  pValue: z.number().min(0).max(1),
  /** Noise of one pixel's amplitude, K. */
  amplitudeSigmaK: z.number(),
  /** For each hotspot, by its rank: its own phase, and the chance that noise makes it anywhere in the frame. */
  hotspots: z.array(
    z.object({ rank: z.int().positive(), phaseDeg: z.number(), pValue: z.number().min(0).max(1) }),
  ),
});

const alignmentSchema = z.object({
  dxPx: z.number(),
  dyPx: z.number(),
  rotationDeg: z.number(),
  uncertaintyPx: z.number(),
  trusted: z.boolean(),
});

/** White noise of one pixel of the averaged difference, and the noise at the scale that is tested. */
const noiseSchema = z.object({ sigmaK: z.number(), testedSigmaK: z.number() });

/** The second view of an attempt: what went in, and how well it was brought together. */
const otherSideSchema = z.object({
  /** Sides that the first view and this one see. */
  primarySide: side,
  side,
  inputs: z.object({
    baseline: z.array(inputFileSchema),
    powered: z.array(inputFileSchema),
    view: z.string().nullable(),
    rateHz: z.number().nullable(),
  }),
  alignment: alignmentSchema,
  noise: noiseSchema,
  threshold: z.object({ riseK: z.number() }),
  cycle: cycleSchema.nullable(),
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
    /** From power-on to the powered frames, s, where that was told. */
    afterS: z.number().positive().optional(),
    volts: z.number().nullable(),
    amps: z.number().nullable(),
  }),
  /** The options that made these findings, defaults resolved. */
  options: z.record(z.string(), z.unknown()),
  alignment: alignmentSchema,
  noise: noiseSchema,
  threshold: z.object({
    riseK: z.number(),
    falseAlarmsPerFrame: z.number(),
    /** Fewest watts that would have been found in a part, median over the parts; null without a board. */
    powerW: z.number().nullable().optional(),
  }),
  hotspots: z.array(hotspotSchema),
  suspects: z.array(suspectSchema),
  artefacts: z.array(artefactSchema),
  unexplained: z.number().min(0).max(1).nullable(),
  verdict: z.string(),
  nextStep: z.string().nullable(),
  /** By how much that measurement is expected to lessen the doubt about the source, bits. */
  nextStepGain: z.number().nonnegative().nullable().optional(),
  /** The part of `nextStep` about a change that no part of the map is there for: it holds whatever else is settled. */
  nextStepUnmapped: z.string().optional(),
  /** Null without volts and amps, or without watts. */
  energy: energySchema.nullable().optional(),
  /** What shiny faces in view can hide, the worst first. */
  limits: z.array(limitSchema).optional(),
  /** Where the supply was switched in a rhythm: rises are then amplitudes of the sine that follows it, and watts, read
   *  as of a constant supply, compare the parts of the run alone. */
  cycle: cycleSchema.nullable().optional(),
  /** Where a second view was given. `inputs`, `alignment`, `noise` and `threshold` beside it are those of the first. */
  otherSide: otherSideSchema.nullable().optional(),
  /** Which board it was; null without one. */
  board: boardIdentitySchema.nullable().optional(),
  /** Every part of the map, in its order, whether it heats or not. */
  parts: z.array(partSchema).optional(),
  notes: z.array(noteSchema),
});

export type InputFile = z.infer<typeof inputFileSchema>;
export type Hotspot = z.infer<typeof hotspotSchema>;
export type Suspect = z.infer<typeof suspectSchema>;
export type Artefact = z.infer<typeof artefactSchema>;
export type Energy = z.infer<typeof energySchema>;
export type Limit = z.infer<typeof limitSchema>;
export type Cycle = z.infer<typeof cycleSchema>;
export type OtherSideFindings = z.infer<typeof otherSideSchema>;
export type Findings = z.infer<typeof findingsSchema>;
