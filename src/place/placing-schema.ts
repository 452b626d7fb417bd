// place: what a placing tells beside the view → its schema.
import * as z from "zod";
import { viewSchema } from "../board/board-schema.js";

/** What `board place --json` prints, `kind: faultglow/placing`. */
export const placingSchema = z.object({
  kind: z.literal("faultglow/placing"),
  version: z.literal(1),
  view: viewSchema,
  /** Standard error of the placing, root mean square over the board; the earlier view's own error comes on top. */
  sigmaPx: z.number().nonnegative(),
  sigmaMm: z.number().nonnegative(),
  /** How the content moved from the earlier frame: turn (clockwise as seen) and scale. */
  rotationDeg: z.number(),
  scale: z.number().positive(),
  /** Share of the board's edges that the new frame sees. */
  seenShare: z.number().min(0).max(1),
  /** Standard deviations by which the edges on the board agree better in their place than elsewhere, and the same for
   *  the best other way to lay the board. */
  innerZ: z.number(),
  rivalZ: z.number(),
  /** Mean squared correlation of the frames along the outline. */
  outlineLikeness: z.number().min(0).max(1),
});

/** A view found from an earlier one, and how sure it is. */
export type Placing = z.infer<typeof placingSchema>;
