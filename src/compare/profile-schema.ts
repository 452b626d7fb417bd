// compare: what attempts on healthy boards of one map show → the schema of a profile.
import * as z from "zod";
import { noteSchema } from "../core/note-schema.js";
import { boardIdentitySchema } from "../findings/parts-schema.js";

/** A quantity over the healthy attempts: its mean, and the scatter that one more attempt is expected to have. */
const expectedSchema = z.object({ mean: z.number(), sigma: z.number().nonnegative() });

const profilePartSchema = z.object({
  ref: z.string(),
  side: z.enum(["top", "bottom"]),
  /** Attempts that see it, and in how many of them it was found to heat. */
  attempts: z.int().nonnegative(),
  found: z.int().nonnegative(),
  /** Of those in which it heats: watts (for each watt fed in, if `per` says so), natural logarithm; null if in none. */
  logPower: expectedSchema.nullable(),
  /** Contrast of its face (for each watt fed in, if `per` says so), K; null where none sees it. */
  contrastK: expectedSchema.nullable(),
  /** Degrees of freedom of the scatter. */
  freedom: z.number().nonnegative(),
});

/** What each part shows on healthy boards, `kind: faultglow/profile`. */
export const profileSchema = z.object({
  kind: z.literal("faultglow/profile"),
  version: z.literal(1),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  board: boardIdentitySchema,
  /** What the numbers are for: each watt fed in, or an attempt as it is. */
  per: z.enum(["fed", "attempt"]),
  attempts: z.int().positive(),
  /** Hashes of the powered frames that it comes from. */
  sources: z.array(z.array(z.string().nullable())),
  parts: z.array(profilePartSchema),
  notes: z.array(noteSchema),
});

export type Profile = z.infer<typeof profileSchema>;
export type ProfilePart = z.infer<typeof profilePartSchema>;
