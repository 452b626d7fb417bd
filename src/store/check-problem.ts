// store: something that is wrong with a job → its severity, code and words.
import type { ErrorCode } from "../core/errors.js";
import { type NoteCode, type NoteSeverity, note } from "../core/notes.js";

/** One thing that is wrong or worth knowing. */
export interface CheckProblem {
  readonly severity: "error" | NoteSeverity;
  readonly code: ErrorCode | NoteCode;
  /** Attempt that it belongs to; null for the job as a whole. */
  readonly attempt: number | null;
  readonly text: string;
}

/** Word a note as a problem. */
export function noteProblem(code: NoteCode, attempt: number | null, text: string): CheckProblem {
  const { severity } = note(code, text);
  return { severity, code, attempt, text };
}
