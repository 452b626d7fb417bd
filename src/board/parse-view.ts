// board: parsed JSON → a view whose form can be relied on, and notes on keys that are not known.
import { checkKind } from "../core/check-kind.js";
import { problemNotes } from "../core/json-problem.js";
import type { Note } from "../core/notes.js";
import { type FileKind, unknownKeys } from "../core/schema-problems.js";
import { type View, viewSchema } from "./board-schema.js";

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
  const listAll = "Correct these first; the others are listed then";
  const view = checkKind(value, VIEW_KIND, viewSchema, { file }, listAll);
  return { view, notes: problemNotes(unknownKeys(value, viewSchema), file) };
}
