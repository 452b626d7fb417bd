// api: the shape of requests for board maps and drafts → schemas that read and describe them.
import * as z from "zod";
import { boardMapSchema } from "../board/board-schema.js";
import { noteSchema } from "../core/note-schema.js";
import { momentSchema, sha256Schema } from "../job/job-schema.js";

/** A map for a job: a new board, or, under the name of one that it has, the correction of that. */
export const saveBoardSchema = z.object({ map: boardMapSchema });
export const savedBoardSchema = z.object({
  /** Line of the journal. */
  seq: z.int(),
  name: z.string(),
  sha256: sha256Schema,
  notes: z.array(noteSchema),
});

/** A map that some job has. */
const libraryBoardSchema = z.object({
  device: z.string(),
  job: z.string(),
  name: z.string(),
  sha256: sha256Schema,
  at: momentSchema,
  regions: z.object({ top: z.int(), bottom: z.int() }),
  sizeMm: z.tuple([z.number(), z.number()]),
});
/** The newest map of each name for each device, the latest first. */
export const librarySchema = z.object({ boards: z.array(libraryBoardSchema) });
export const boardPathSchema = z.object({ job: z.string(), sha256: sha256Schema });

/** Something half done that a reload must not lose, such as a map that is being drawn. */
export const draftPathSchema = z.object({ job: z.string(), name: z.string().regex(/^[a-z0-9-]{1,40}$/) });
/** Any JSON, up to 4 MiB. */
export const draftSchema = z.object({ draft: z.unknown() });

export type SaveBoard = z.infer<typeof saveBoardSchema>;
export type SavedBoard = z.infer<typeof savedBoardSchema>;
export type LibraryBoard = z.infer<typeof libraryBoardSchema>;
export type Library = z.infer<typeof librarySchema>;
export type Draft = z.infer<typeof draftSchema>;
