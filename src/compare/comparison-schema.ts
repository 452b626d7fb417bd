// compare: the shape of comparison.json and of `compare --json` → a schema that reads and describes it.
import * as z from "zod";
import { noteSchema } from "../core/note-schema.js";
import { ACTION_WORDS } from "./action-words.js";

const side = z.enum(["top", "bottom"]);
const pairOf = <T extends z.ZodType>(value: T) => z.tuple([value, value]);
const number2 = pairOf(z.number().nullable());

/** What became of heat from the earlier attempt to the later one. */
const CHANGES = ["persisted", "gone", "new", "hotter", "cooler", "unsure"] as const;
export type Change = (typeof CHANGES)[number];

const actionSchema = z.object({ what: z.enum(ACTION_WORDS), ref: z.string() });

/** A part that heats in at least one of the attempts; pairs are [earlier, later]. */
const comparedPartSchema = z.object({
  ref: z.string(),
  side,
  normallyWarm: z.boolean(),
  change: z.enum(CHANGES),
  /** Largest rise there; null outside the frame. */
  riseK: number2,
  /** Watts as each attempt tells them; null where no hotspot was found for it. */
  powerW: number2,
  /** Watts in it for each watt that was fed in; null where either is not known. */
  perWatt: number2,
  /** Change in units of its uncertainty, input power divided out: above 0 is hotter. Of heat that is gone or new: how
   *  far what was there exceeds what would have been missed, with its sign. Null where nothing can be tested. */
  z: z.number().nullable(),
  /** Chance of so large a change where nothing changed; of heat in both attempts for either way, of heat that is gone
   *  or new for that way alone. Null without `z`. */
  pValue: z.number().min(0).max(1).nullable(),
  /** The least false-discovery rate over all parts at which it counts as changed. */
  qValue: z.number().min(0).max(1).nullable(),
  /** Logarithm of the ratio of later to earlier, input power divided out, and its standard uncertainty; null unless
   *  there in both. */
  logRatio: z.number().nullable(),
  logSigma: z.number().nullable(),
  /** Whether a view of that attempt sees it. */
  seen: pairOf(z.boolean()),
  /** Rank of its hotspot. */
  hotspots: pairOf(z.int().positive().nullable()),
  /** No hotspot was found for it, but its face, or the warmth of the board around it, shows its heat all the same. */
  faceAlone: pairOf(z.boolean()).optional(),
  /** Probability that it is the source of that heat, from both attempts. */
  probability: z.number().min(0).max(1),
  /** Other parts that may be the source in its place, the more probable first. */
  orElse: z.array(z.string()),
  /** The stronger part close beside it whose change it only goes along with, so that its own is unsure. */
  goesWith: z.string().optional(),
  /** Against the profile of healthy boards, if there is one: watts or rise beyond what they show, in sigma. */
  healthyZ: number2.optional(),
  /** Why it is called so, in words. */
  why: z.string(),
});

const comparedHotspotSchema = z.object({
  /** Ranks; null where it has no partner. */
  before: z.int().positive().nullable(),
  after: z.int().positive().nullable(),
  change: z.enum(CHANGES),
  /** Between the two places; null without a partner. */
  distanceMm: z.number().nullable(),
  sigmaMm: z.number().nullable(),
  /** … in pixels, where no board is known. */
  distancePx: z.number().nullable().optional(),
  /** Most probable source by both; null if none is named. */
  ref: z.string().nullable(),
});

/** One of the two attempts. */
const comparedAttemptSchema = z.object({
  file: z.string().nullable(),
  sides: z.array(side),
  volts: z.number().nullable(),
  amps: z.number().nullable(),
  fedW: z.number().nullable(),
});

export const comparisonSchema = z.object({
  kind: z.literal("faultglow/comparison"),
  version: z.literal(1),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  board: z.string().nullable(),
  before: comparedAttemptSchema,
  after: comparedAttemptSchema,
  /** The options that made it, defaults resolved. */
  options: z.record(z.string(), z.unknown()),
  /** What was divided out: `factor` is how many times as much power the later attempt had. */
  division: z.object({
    by: z.enum(["fed", "warm", "none"]),
    factor: z.number().positive(),
    logSigma: z.number().nonnegative(),
  }),
  /** What was done between the attempts. */
  actions: z.array(actionSchema),
  parts: z.array(comparedPartSchema),
  hotspots: z.array(comparedHotspotSchema),
  verdict: z.string(),
  /** Where to look next, and why. */
  lookAt: z.array(z.object({ ref: z.string(), side, why: z.string() })),
  notes: z.array(noteSchema),
});

export type Action = z.infer<typeof actionSchema>;
export type ComparedPart = z.infer<typeof comparedPartSchema>;
export type ComparedHotspot = z.infer<typeof comparedHotspotSchema>;
export type ComparedAttempt = z.infer<typeof comparedAttemptSchema>;
export type Comparison = z.infer<typeof comparisonSchema>;
