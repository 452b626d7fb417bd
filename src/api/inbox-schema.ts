// api: the shape of what was dropped on a job and is no attempt yet → schemas that read and describe it.
import * as z from "zod";
import { noteSchema } from "../core/note-schema.js";
import { attemptOptionsSchema } from "../job/attempt-schema.js";
import { momentSchema, sha256Schema } from "../job/job-schema.js";
import { answerErrorSchema } from "./answer-error-schema.js";

const ROLES = ["baseline", "powered"] as const;
const role = z.enum(ROLES);

/** What a dropped file is, by its bytes. `photo`: a picture to draw over, not to measure by. `scale` belongs to the
 *  picture of the same name. `board`, `view`: JSON of these kinds. `unreadable`: see `error`. `unread`: on the disk,
 *  and being read; an event follows. */
const INBOX_SORTS = ["frame", "photo", "scale", "board", "view", "unreadable", "unread"] as const;

/** What reading a file of frames gave. */
const inboxFrameSchema = z.object({
  width: z.int().positive(),
  height: z.int().positive(),
  /** Frames in the file. */
  frames: z.int().positive(),
  /** Coldest, median and hottest pixel of the first frame, °C. */
  lowC: z.number(),
  medianC: z.number(),
  highC: z.number(),
  /** How far the warmest part in 200 stands above the median, K. */
  contrastK: z.number(),
  /** White noise of a pixel, K, from differences between neighbours of the first frame; null for frames too small. */
  noiseK: z.number().nullable(),
  /** Pixels without a reading. */
  missing: z.int().nonnegative(),
  /** Which scale was used for grey levels, in words; null for temperatures. */
  scaleFrom: z.string().nullable(),
});

/** A file in the inbox. */
export const inboxFileSchema = z.object({
  sha256: sha256Schema,
  /** Names under which these bytes were dropped, folders included, the first one first. */
  names: z.array(z.string()).min(1),
  bytes: z.int().nonnegative(),
  at: momentSchema,
  sort: z.enum(INBOX_SORTS),
  /** For `frame`; null for others. */
  frame: inboxFrameSchema.nullable(),
  /** What is worth saying of it. */
  notes: z.array(noteSchema),
  /** Why it can't be read, or, E_SCALE_NONE, what is missing. */
  error: answerErrorSchema.shape.error.nullable(),
  /** As a person said; null: not said. */
  said: role.nullable(),
  /** What it most probably is, by its name, its contents and the other frames: goes by `said` where that is set. Null
   *  for what is no frame. */
  role: role.nullable(),
  /** How the role was told. */
  roleBy: z.enum(["said", "name", "contents", "order"]).nullable(),
  /** Scale that a person gave for it; goes before one beside or inside the file. */
  scale: attemptOptionsSchema.shape.scale,
  /** Attempts of the job that have it already. */
  attempts: z.array(z.int().positive()),
});

/** Frames as they are read: natural order of names, baseline apart from powered. */
export const inboxSchema = z.object({
  files: z.array(inboxFileSchema),
  /** The scale that was last given in any job of the folder, to be offered. */
  lastScale: attemptOptionsSchema.shape.scale,
});

export const inboxPathSchema = z.object({ job: z.string(), sha256: sha256Schema });
/** Name of a file, with the folders it was dropped in, `/` between. */
const droppedName = z.string().min(1).max(400);
export const addInboxQuerySchema = z.object({ name: droppedName });
/** First line of a request with several files: what follows it, in order. See `packFiles`. */
export const inboxHeadSchema = z
  .array(z.object({ name: droppedName, bytes: z.int().nonnegative() }))
  .min(1)
  .max(64);
const changeInboxSchema = z.object({
  role: role.nullable().optional(),
  scale: attemptOptionsSchema.shape.scale.optional(),
});
/** What is to be changed of several files at once. */
export const changeManySchema = changeInboxSchema.extend({ files: z.array(sha256Schema).min(1).max(5000) });

export type Role = (typeof ROLES)[number];
export type InboxFrame = z.infer<typeof inboxFrameSchema>;
export type InboxFile = z.infer<typeof inboxFileSchema>;
export type Inbox = z.infer<typeof inboxSchema>;
export type InboxHead = z.infer<typeof inboxHeadSchema>;
export type ChangeMany = z.infer<typeof changeManySchema>;
