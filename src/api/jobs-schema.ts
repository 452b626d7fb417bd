// api: the shape of lists of jobs, of a new job and of all that a job holds → schemas that read and describe them.
import * as z from "zod";
import { boardMapSchema, viewSchema } from "../board/board-schema.js";
import { comparisonSchema } from "../compare/comparison-schema.js";
import { noteSchema } from "../core/note-schema.js";
import { evidenceSchema } from "../evidence/evidence-schema.js";
import { findingsSchema } from "../findings/findings-schema.js";
import { attemptSchema } from "../job/attempt-schema.js";
import { actionSchema, entrySchema, saidSchema } from "../job/entry-schema.js";
import { jobSchema, momentSchema, sha256Schema, symptomSchema } from "../job/job-schema.js";
import { readingSchema, referenceSchema } from "../readings/reading-schema.js";
import { answerErrorSchema } from "./answer-error-schema.js";
import { inboxSchema } from "./inbox-schema.js";
import { taskSchema } from "./task-schema.js";
import { watchStateSchema } from "./watch-schema.js";

const told = z.object({ seq: z.int(), at: momentSchema });

/** A job in the list. */
const jobSummarySchema = z.object({
  id: z.string(),
  /** Its folder, from the folder that is served. */
  folder: z.string(),
  device: z.string(),
  complaint: z.string().nullable(),
  createdAt: z.string(),
  lastAt: z.string(),
  boards: z.array(z.string()),
  attempts: z.int(),
  readings: z.int(),
  actions: z.int(),
  verdict: z.string().nullable(),
  parts: z.array(z.object({ ref: z.string(), as: z.enum(["suspect", "action", "reading"]) })),
  nets: z.array(z.string()),
  words: z.array(z.string()),
  seal: z.string(),
});
export const jobListSchema = z.object({
  /** Folder that is served, as it is called on this machine. */
  folder: z.string(),
  tool: z.string(),
  /** The latest first. */
  jobs: z.array(jobSummarySchema),
  unreadable: z.array(z.object({ folder: z.string(), problem: z.string() })),
});

export const makeJobSchema = z.object({
  device: z.string().regex(/\S/).max(200),
  complaint: z.string().max(10_000).optional(),
  symptom: symptomSchema.optional(),
  remark: z.string().max(10_000).optional(),
  boards: z.array(boardMapSchema).max(8).optional(),
});

/** All that a job holds. `{ ...state, withdrawn: new Set(state.withdrawn) }` is a `Job`. */
export const jobStateSchema = z.object({
  id: z.string(),
  folder: z.string(),
  header: jobSchema,
  boards: z.array(
    told.extend({ name: z.string(), file: z.string(), sha256: sha256Schema, map: boardMapSchema }),
  ),
  attempts: z.array(
    told.extend({
      attempt: attemptSchema,
      findings: findingsSchema,
      board: boardMapSchema.nullable(),
      views: z.array(viewSchema.nullable()),
    }),
  ),
  readings: z.array(z.intersection(readingSchema, told)),
  references: z.array(z.intersection(referenceSchema, told)),
  actions: z.array(actionSchema.extend(told.shape)),
  remarks: z.array(told.extend({ text: z.string() })),
  entries: z.array(entrySchema),
  withdrawn: z.array(z.int()),
  seal: z.string(),
  notes: z.array(noteSchema),
  /** Null before anything was measured. */
  evidence: evidenceSchema.nullable(),
  /** Each attempt held against the one before it of the same board; numbers of attempts. */
  comparisons: z.array(
    z.object({
      before: z.int(),
      after: z.int(),
      comparison: comparisonSchema.nullable(),
      reason: z.string().nullable(),
    }),
  ),
  inbox: inboxSchema,
  /** Names of the drafts that are kept. */
  drafts: z.array(z.string()),
  /** Of this run of the server, the latest first. */
  tasks: z.array(taskSchema),
  watch: watchStateSchema.nullable(),
});

export const jobPathSchema = z.object({ job: z.string() });

/** What is said of the device: readings, references, actions, remarks, withdrawals; all of them or none. */
export const saySchema = z.object({
  said: z
    .array(saidSchema)
    .min(1)
    .max(5000)
    .refine((said) => said.every(({ type }) => type !== "board" && type !== "attempt"), {
      error:
        "readings, references, actions, remarks and withdrawals; boards and attempts have calls of their own",
    }),
  at: momentSchema.optional(),
});
/** The lines that were added. */
export const sayAnswerSchema = z.object({ entries: z.array(entrySchema), notes: z.array(noteSchema) });

/** Two attempts of a job. */
export const compareQuerySchema = z.object({
  before: z.coerce.number().int().positive(),
  after: z.coerce.number().int().positive(),
  /** "no": the attempts on good boards are left out of it. */
  healthy: z.enum(["yes", "no"]).optional(),
});
/** What became of the heat between them, or why they can't be compared. */
export const compareAnswerSchema = z.object({
  comparison: comparisonSchema.nullable(),
  error: answerErrorSchema.shape.error.nullable(),
});

export type JobSummary = z.infer<typeof jobSummarySchema>;
export type JobList = z.infer<typeof jobListSchema>;
export type MakeJob = z.infer<typeof makeJobSchema>;
export type JobState = z.infer<typeof jobStateSchema>;
export type Say = z.infer<typeof saySchema>;
export type CompareAnswer = z.infer<typeof compareAnswerSchema>;
export type SayAnswer = z.infer<typeof sayAnswerSchema>;
