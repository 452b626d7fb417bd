// job: the shape of a line of journal.jsonl → a schema that reads and describes it.
import * as z from "zod";
import { PART_DEEDS } from "../compare/action-words.js";
import { readingSchema, referenceSchema } from "../readings/reading-schema.js";
import { momentSchema, sha256Schema } from "./job-schema.js";

/** What can be done to a board. */
const DEEDS = [...PART_DEEDS, "shield-off", "shield-on", "boards-split", "boards-joined", "other"] as const;
export type Deed = (typeof DEEDS)[number];

/** Something that was changed on the device. */
export const actionSchema = z.object({
  did: z.enum(DEEDS),
  /** Part that it was done to; absent for boards and for cleaning at large. */
  ref: z.string().optional(),
  board: z.string().optional(),
  remark: z.string().optional(),
});

/** What a line says. */
export const saidSchema = z.discriminatedUnion("type", [
  /** A map of the device; a later one of the same name corrects it for attempts from then on. */
  z.object({ type: z.literal("board"), name: z.string(), file: z.string(), sha256: sha256Schema }),
  /** `attempts/<number>/attempt.json` with its hash. */
  z.object({ type: z.literal("attempt"), number: z.int().positive(), sha256: sha256Schema }),
  z.object({ type: z.literal("reading"), reading: readingSchema }),
  z.object({ type: z.literal("reference"), reference: referenceSchema }),
  z.object({ type: z.literal("action"), action: actionSchema }),
  z.object({ type: z.literal("remark"), text: z.string() }),
  /** A line said before was a mistake: it stays, and no longer counts. */
  z.object({ type: z.literal("withdrawal"), seq: z.int().positive(), reason: z.string() }),
]);

/** A line of the journal. */
export const entrySchema = z.object({
  kind: z.literal("faultglow/entry"),
  version: z.literal(1),
  /** From 1, without gaps. */
  seq: z.int().positive(),
  /** SHA-256 of the line before without its line end, of job.json for the first: a changed past is seen. */
  previous: sha256Schema,
  at: momentSchema,
  said: saidSchema,
});

export type Action = z.infer<typeof actionSchema>;
export type Said = z.infer<typeof saidSchema>;
export type Entry = z.infer<typeof entrySchema>;
