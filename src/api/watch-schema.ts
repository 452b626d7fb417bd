// api: the shape of the watch of a folder → schemas that read and describe it.
import * as z from "zod";
import { viewSchema } from "../board/board-schema.js";
import { attemptOptionsSchema, conditionsSchema } from "../job/attempt-schema.js";

/** Folder whose new frames become attempts, and what holds for all of these. */
export const startWatchSchema = z.object({
  /** Path on this machine. */
  folder: z.string().min(1).max(4000),
  view: viewSchema.optional(),
  board: z.string().optional(),
  options: attemptOptionsSchema.partial().optional(),
  conditions: conditionsSchema.partial().optional(),
  /** Roles by names of files, or by order: a baseline, then powered frames, then a baseline again. */
  tell: z.enum(["name", "order"]).optional(),
  /** Take frames too that are older than the job. */
  older: z.boolean().optional(),
});

/** How a watch is doing. */
export const watchStateSchema = z.object({
  folder: z.string(),
  running: z.boolean(),
  /** Attempts that it added. */
  added: z.int().nonnegative(),
  /** What it last said, the latest first. */
  said: z.array(z.object({ at: z.string(), text: z.string() })),
});

export type StartWatch = z.infer<typeof startWatchSchema>;
export type WatchState = z.infer<typeof watchStateSchema>;
