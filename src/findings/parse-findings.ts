// findings: parsed JSON → findings that can be relied on, and notes on keys that are not known.
import { checkKind } from "../core/check-kind.js";
import { problemNotes } from "../core/json-problem.js";
import type { Note } from "../core/notes.js";
import { type FileKind, unknownKeys } from "../core/schema-problems.js";
import { type Findings, findingsSchema } from "./findings-schema.js";

/** What findings are called in errors. */
const FINDINGS_KIND: FileKind = Object.freeze({
  kind: "faultglow/findings",
  version: 1,
  name: "a file of findings",
  kindCode: "E_FINDINGS_KIND",
  valueCode: "E_FINDINGS_VALUE",
});

/** Parse findings, as `find --json` prints them and `find --out` writes them.
 *  @param file name of the file, for errors and notes.
 *  @throws ToolError E_FINDINGS_KIND or E_FINDINGS_VALUE; the message lists up to three problems.
 */
export function parseFindings(value: unknown, file: string): { findings: Findings; notes: Note[] } {
  const listAll = "Run faultglow find again and compare what it writes";
  const findings = checkKind(value, FINDINGS_KIND, findingsSchema, { file }, listAll);
  return { findings, notes: problemNotes(unknownKeys(value, findingsSchema), file) };
}
