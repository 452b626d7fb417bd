// board: parsed JSON → a view whose form can be relied on, and notes on keys that are not known.
import type { Note } from "../core/notes.js";
import { type View, viewSchema } from "./board-schema.js";
import { problemNotes } from "./json-problem.js";
import { problemsError } from "./problems-error.js";
import { type FileKind, kindProblem, schemaProblems, unknownKeys } from "./schema-problems.js";

/** What a view is called in errors. */
const VIEW_KIND: FileKind = Object.freeze({
  kind: "faultglow/view",
  version: 1,
  name: "a view",
  kindCode: "E_VIEW_KIND",
  valueCode: "E_VIEW_VALUE",
});

/** Parse a view. Whether its fiducials fix a transform is for `placeView` to say.
 *  @param file name of the file, for errors and notes.
 *  @throws ToolError E_VIEW_KIND or E_VIEW_VALUE; the message lists up to three problems. */
export function parseView(value: unknown, file: string): { view: View; notes: Note[] } {
  const wrongKind = kindProblem(value, VIEW_KIND);
  const problems = wrongKind ? [wrongKind] : schemaProblems(value, viewSchema, VIEW_KIND.valueCode);
  const error = problemsError(problems, file, "Correct these first; the others are listed then");
  if (error !== null) throw error;
  return {
    view: viewSchema.parse(value),
    notes: problemNotes(unknownKeys(value, viewSchema), file),
  };
}
