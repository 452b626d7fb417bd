// compare: the shape of what an attempt shows beyond a healthy profile → a schema that reads and describes it.
import * as z from "zod";
import { noteSchema } from "../core/note-schema.js";

const excessPartSchema = z.object({
  ref: z.string(),
  side: z.enum(["top", "bottom"]),
  /** Warmer than on healthy boards, at the false-discovery rate. */
  exceeds: z.boolean(),
  /** Above 0: warmer. */
  z: z.number(),
  pValue: z.number().min(0).max(1),
  qValue: z.number().min(0).max(1),
  /** What was compared: contrast of its face, or the logarithm of its watts; for each watt fed in, if `per` says so. */
  what: z.enum(["contrastK", "logPower"]),
  value: z.number(),
  expected: z.number(),
  sigma: z.number(),
  hotspot: z.int().positive().nullable(),
  normallyWarm: z.boolean(),
});

/** `kind: faultglow/excess`, what `compare` prints for one attempt and a healthy profile. */
export const excessSchema = z.object({
  kind: z.literal("faultglow/excess"),
  version: z.literal(1),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  board: z.string().nullable(),
  file: z.string().nullable(),
  per: z.enum(["fed", "attempt"]),
  fedW: z.number().nullable(),
  healthyAttempts: z.int().positive(),
  options: z.record(z.string(), z.unknown()),
  /** Most in excess first. */
  parts: z.array(excessPartSchema),
  verdict: z.string(),
  notes: z.array(noteSchema),
});

export type Excess = z.infer<typeof excessSchema>;
export type ExcessPart = z.infer<typeof excessPartSchema>;
