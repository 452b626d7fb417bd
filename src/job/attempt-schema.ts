// job: the shape of attempt.json → a schema that reads and describes it.
import * as z from "zod";
import { momentSchema, sha256Schema } from "./job-schema.js";

const side = z.enum(["top", "bottom"]);
const scaleRange = z.object({ lowC: z.number(), highC: z.number() });
const scaleLinear = z.object({ gainCPerLevel: z.number(), offsetC: z.number() });

/** A frame's file as it was taken into the job: `frames/<sha256><ending>`. */
const keptFrameSchema = z.object({
  sha256: sha256Schema,
  /** Ending of the kept file, with its dot; one of those a frame may have, else ".bin". */
  ending: z.string().regex(/^\.[a-z0-9]{1,8}$/),
  bytes: z.int().nonnegative(),
  /** What the file was called, as short as tells it from the other frames of the attempt. */
  name: z.string(),
  /** The scale in a file beside it. */
  scaleBeside: z
    .object({ from: z.string(), scale: z.union([scaleRange, scaleLinear]) })
    .nullable()
    .optional(),
});

/** Frames from one camera position. */
const keptViewSchema = z.object({
  /** In the order in which they are read. */
  baseline: z.array(keptFrameSchema).min(1),
  powered: z.array(keptFrameSchema).min(1),
  /** How the first baseline frame sees the board: `views/<sha256>.json`; null without a board. */
  view: z
    .object({
      sha256: sha256Schema,
      file: z.string(),
      side,
      /** Where it was not clicked but found by an earlier attempt: that, and the standard error over the board. */
      placed: z.object({ attempt: z.int().positive(), sigmaMm: z.number() }).optional(),
    })
    .nullable(),
});

/** What was so at the bench. */
export const conditionsSchema = z.object({
  volts: z.number().positive().nullable(),
  amps: z.number().positive().nullable(),
  /** Limit that the supply was set to, A. */
  limitA: z.number().positive().nullable(),
  /** Rail or net that was fed. */
  rail: z.string().nullable(),
  /** What was connected. */
  connected: z.array(z.string()),
  remark: z.string().nullable(),
  /** True: a good board of the same map, taken to know what is normal. */
  healthy: z.boolean(),
});

/** What `find` was told of the frames. */
export const attemptOptionsSchema = z.object({
  scale: z.union([scaleRange, scaleLinear]).nullable(),
  unit: z.enum(["C", "F", "K"]).nullable(),
  rateHz: z.number().positive().nullable(),
  /** From power-on to the powered frames; left out where nobody said. */
  afterS: z.number().positive().optional(),
  cycleS: z.union([z.number().positive(), z.literal("find")]).nullable(),
  falseAlarmsPerFrame: z.number().positive().nullable(),
});

/** One attempt: frames, conditions, options, and the hashes of what came of them. Written once. */
export const attemptSchema = z.object({
  kind: z.literal("faultglow/attempt"),
  version: z.literal(1),
  /** From 1; its folder is `attempts/001`. */
  number: z.int().positive(),
  at: momentSchema,
  /** Map that it was analysed with: `boards/<sha256>.json`; null without one. */
  board: z.object({ name: z.string(), sha256: sha256Schema, file: z.string() }).nullable(),
  /** The first view, in whose frame findings are told, and the other one where there is one. */
  views: z.array(keptViewSchema).min(1).max(2),
  conditions: conditionsSchema,
  options: attemptOptionsSchema,
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  /** Files of the attempt's folder by name: findings.json, overlay.png, report.html, … */
  files: z.record(z.string().regex(/^[a-z-]+\.[a-z]+$/), sha256Schema),
});

export type KeptFrame = z.infer<typeof keptFrameSchema>;
export type KeptView = z.infer<typeof keptViewSchema>;
export type Conditions = z.infer<typeof conditionsSchema>;
export type AttemptOptions = z.infer<typeof attemptOptionsSchema>;
/** What attempt.json says. */
export type Attempt = z.infer<typeof attemptSchema>;
