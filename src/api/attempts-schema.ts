// api: the shape of requests for attempts, placings and pictures → schemas that read and describe them.
import * as z from "zod";
import { viewSchema } from "../board/board-schema.js";
import { attemptOptionsSchema, conditionsSchema } from "../job/attempt-schema.js";
import { momentSchema, sha256Schema } from "../job/job-schema.js";

const frames = z.array(sha256Schema).min(1).max(5000);

/** Frames of the inbox that become an attempt. Those of a role are taken in the order given. */
export const makeAttemptSchema = z.object({
  baseline: frames,
  powered: frames,
  /** How the first baseline frame sees the board; without it parts can't be named. */
  view: viewSchema.optional(),
  /** Name of a board of the job; may be left out where it has one. */
  board: z.string().optional(),
  /** The same attempt from another side or place. */
  other: z.object({ baseline: frames, powered: frames, view: viewSchema }).optional(),
  options: attemptOptionsSchema.partial().optional(),
  conditions: conditionsSchema.partial().optional(),
  at: momentSchema.optional(),
});

/** A baseline in the inbox is to be placed by an earlier attempt. */
export const placeSchema = z.object({
  /** Baseline frame in the inbox. */
  frame: sha256Schema,
  /** Board whose attempts are tried; absent: those of any. */
  board: z.string().optional(),
  side: z.enum(["top", "bottom"]).optional(),
  /** Number of the attempt; absent: all with a view, the latest first, until one is trusted. */
  attempt: z.int().positive().optional(),
  /** Another job to take the earlier attempt from: the same device on another day. */
  from: z.string().optional(),
});

/** Where the frame shows the board, by an earlier attempt. */
export const placedSchema = z.object({
  /** Null where nothing agrees. */
  view: viewSchema.nullable(),
  /** False: offer it with its reason, and ask for fiducials. */
  trusted: z.boolean(),
  /** Why not, in words; null where it is trusted. */
  reason: z.string().nullable(),
  sigmaPx: z.number().nullable(),
  sigmaMm: z.number().nullable(),
  /** The attempt that it was placed by, and its view. */
  by: z.object({ job: z.string(), attempt: z.int(), view: z.int() }).nullable(),
});

export const attemptPathSchema = z.object({ job: z.string(), number: z.coerce.number().int().positive() });
export const viewQuerySchema = z.object({ view: z.coerce.number().int().min(0).max(1).optional() });

/** A place in the frame of a burst, px of the baseline frame, and the radius of the disc that is averaged. */
export const courseQuerySchema = viewQuerySchema.extend({
  x: z.coerce.number(),
  y: z.coerce.number(),
  radius: z.coerce.number().positive().max(200).optional(),
});
/** Mean over a disc in each powered frame, minus the mean of the baseline there, as the camera gave it: no drift
 *  removed, no frame moved. */
export const courseSchema = z.object({
  /** From power-on, as the findings count it, or in a run of switching from the first powered frame, s; null without a
   *  rate. */
  timesS: z.array(z.number()).nullable(),
  risesK: z.array(z.number().nullable()),
  pixels: z.int().nonnegative(),
});

export type MakeAttempt = z.infer<typeof makeAttemptSchema>;
export type Place = z.infer<typeof placeSchema>;
export type Placed = z.infer<typeof placedSchema>;
export type Course = z.infer<typeof courseSchema>;
