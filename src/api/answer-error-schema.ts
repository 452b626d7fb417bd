// api: the shape of an answer that says what went wrong → a schema that reads and describes it.
import * as z from "zod";

/** What the server answers in place of what was asked for, with a status of 400 or more. */
export const answerErrorSchema = z.object({
  error: z.object({
    /** One of ERROR_CODES; "FAULT" for a fault of the tool itself. */
    code: z.string(),
    /** What was expected and what was found: one sentence without its stop. */
    problem: z.string(),
    /** What to do, in the same form. */
    fix: z.string(),
    place: z
      .object({
        file: z.string().optional(),
        line: z.number().optional(),
        column: z.number().optional(),
        path: z.string().optional(),
      })
      .nullable(),
  }),
});

export type AnswerError = z.infer<typeof answerErrorSchema>;
/** What went wrong, in parts. */
export type ErrorWords = AnswerError["error"];
