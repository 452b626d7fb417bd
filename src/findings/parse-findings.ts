// findings: parsed JSON → findings that can be relied on, and notes on keys that are not known.
import { problemNotes } from "../board/json-problem.js";
import { problemsError } from "../board/problems-error.js";
import { type FileKind, kindProblem, schemaProblems, unknownKeys } from "../board/schema-problems.js";
import type { Note } from "../core/notes.js";
import { type Findings, findingsSchema } from "./findings-schema.js";

/** What findings are called in errors. */
const FINDINGS_KIND: FileKind = Object.freeze({
  kind: "faultglow/findings",
  version: 1,
  name: "findings",
  kindCode: "E_FINDINGS_KIND",
  valueCode: "E_FINDINGS_VALUE",
});

/** Parse findings, as `find --json` prints them and `find --out` writes them.
 *  @param file name of the file, for errors and notes.
 *  @throws ToolError E_FINDINGS_KIND or E_FINDINGS_VALUE; the message lists up to three problems.
 */
export function parseFindings(value: unknown, file: string): { findings: Findings; notes: Note[] } {
  const wrongKind = kindProblem(value, FINDINGS_KIND);
  const problems = wrongKind ? [wrongKind] : schemaProblems(value, findingsSchema, FINDINGS_KIND.valueCode);
  const error = problemsError(problems, file, "Run faultglow find again and compare what it writes");
  if (error !== null) throw error;
  return {
    findings: findingsSchema.parse(value),
    notes: problemNotes(unknownKeys(value, findingsSchema), file),
  };
}
