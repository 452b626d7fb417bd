// evidence: the shape of evidence.json → a schema that reads and describes what a whole job says.
import * as z from "zod";
import { READING_CLASSES } from "../readings/classify-reading.js";
import { MEASURES, referenceSchema } from "../readings/reading-schema.js";

const side = z.enum(["top", "bottom"]);
const chance = z.number().min(0).max(1);

/** What became of a suspect. `cleared`: once suspected or changed, and no longer; `cured`: it was the fault, and no
 *  longer is; `unseen`: most probably the fault, worked on, and neither camera nor meter has looked at it since. */
const SUSPECT_STATES = ["open", "cleared", "cured", "unseen", "normallyWarm"] as const;
export type SuspectState = (typeof SUSPECT_STATES)[number];

const jobSuspectSchema = z.object({
  ref: z.string(),
  side,
  /** Name of its board in the job; null where attempts name none. */
  board: z.string().nullable(),
  nets: z.array(z.string()),
  /** That it is, or was, at fault. With two faults both count, so that the sum may exceed 1. */
  probability: chance,
  /** … and still is. */
  stillFaulty: chance,
  /** How many times as likely the nets' last readings are if it is at fault as if a part on none of them is; null where
   *  none counts. */
  readingRatio: z.number().nonnegative().nullable().optional(),
  state: z.enum(SUSPECT_STATES),
  /** What speaks for it, and against it, one sentence each. */
  for: z.array(z.string()),
  against: z.array(z.string()),
  /** How it was cleared, or cured, or what was done that nothing has looked at since; null in other states. */
  cleared: z.string().nullable(),
  /** What was done to it: "replaced". */
  changed: z.array(z.string()),
});

export const judgedReadingSchema = z.object({
  board: z.string().nullable(),
  net: z.string().nullable(),
  ref: z.string().nullable(),
  pin: z.string().nullable(),
  measure: z.enum(MEASURES),
  /** How many changes of the board lie before it. */
  state: z.int().nonnegative(),
  /** `seq` of the readings in the journal. */
  seqs: z.array(z.int()),
  value: z.number().nullable(),
  overRange: z.boolean(),
  class: z.enum(READING_CLASSES),
  reference: referenceSchema.nullable(),
  lowByNature: z.boolean(),
  tolerance: z.number().nullable(),
  why: z.string(),
});

export const evidenceSchema = z.object({
  kind: z.literal("faultglow/evidence"),
  version: z.literal(1),
  tool: z.object({ name: z.literal("faultglow"), version: z.string() }),
  /** The figures that it rests on, defaults resolved. */
  options: z.record(z.string(), z.union([z.number(), z.boolean()])),
  /** The first is the answer: while the fault is there the part that most probably still has it, else the one that had
   *  it. */
  suspects: z.array(jobSuspectSchema),
  /** Whether anything that was measured points to a part; where nothing does, the suspects' probabilities are what is
   *  left of those from before any measurement. Absent: written by an older version. */
  pointsToPart: z.boolean().optional(),
  /** That the fault is none of the named parts, or none that heats. */
  unexplained: chance,
  /** That there are, or were, two faults or more. */
  secondFault: chance,
  /** Three of them. */
  thirdFault: chance,
  /** That whatever was at fault no longer is. */
  mended: chance,
  attempts: z.array(
    z.object({
      number: z.int().positive(),
      /** How many changes of the board lie before it. */
      state: z.int().nonnegative(),
      /** Where it says heat is, it counts as so much of an attempt: those alike share their errors. */
      weight: chance,
      /** Something heats there that is not normally warm. */
      heat: z.boolean(),
      /** Most probable source in that attempt alone. */
      first: z.string().nullable(),
      text: z.string(),
    }),
  ),
  readings: z.array(judgedReadingSchema),
  verdict: z.string(),
  next: z.object({ sentence: z.string(), gainBits: z.number().nonnegative().nullable() }),
});

export type JobSuspect = z.infer<typeof jobSuspectSchema>;
export type Evidence = z.infer<typeof evidenceSchema>;
