// core: the shape of a note in a file or an answer → a schema that reads and describes it.
import * as z from "zod";

/** A note as it is kept; its code may be one that an earlier or later version knows. */
export const noteSchema = z.object({
  code: z.string(),
  severity: z.enum(["info", "warning"]),
  text: z.string(),
});
