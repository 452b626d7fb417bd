// api: the shape of work that takes a while → a schema that reads and describes how far it is.
import * as z from "zod";
import { answerErrorSchema } from "./answer-error-schema.js";

/** Sorts of work that are done beside the server, one after the other. */
const TASK_KINDS = ["sample", "attempt", "report", "pack"] as const;

/** What a task says at its end where nothing is lacking. */
export const TASK_DONE = "Done";

/** How far a piece of work is. Tasks are kept until the server ends. */
export const taskSchema = z.object({
  /** Of this run of the server. */
  id: z.string(),
  kind: z.enum(TASK_KINDS),
  /** Job that it belongs to. */
  job: z.string(),
  state: z.enum(["waiting", "running", "done", "failed", "cancelled"]),
  /** What is being done, in words: "Reading frames"; once it is done `TASK_DONE`, or what is lacking in it. */
  text: z.string(),
  /** Steps done, of how many; null where that is not known. */
  done: z.int().nonnegative(),
  total: z.int().positive().nullable(),
  /** Set where it has failed. */
  error: answerErrorSchema.shape.error.nullable(),
  /** Number of the attempt that was added (`attempt`), names for `jobFile` (`report`, `pack`), once it is done. */
  attempt: z.int().positive().nullable(),
  files: z.array(z.string()),
});

export const taskPathSchema = z.object({ task: z.string() });

export type Task = z.infer<typeof taskSchema>;
