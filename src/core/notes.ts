// core: something worth saying that stops nothing → a note with a code, a severity and a sentence.

/** How much a note matters. */
export type NoteSeverity = "info" | "warning";

/** Every note a user can meet, with its severity and meaning. The README's table is held against this one by a test. */
export const NOTE_CODES = Object.freeze({
  N_NOTHING_HOT: {
    severity: "info",
    meaning: "no hotspot; says the smallest rise that would have been seen",
  },
} as const satisfies Record<string, { severity: NoteSeverity; meaning: string }>);

/** The code of a note. */
export type NoteCode = keyof typeof NOTE_CODES;

/** A remark on an analysis that did not stop it. */
export interface Note {
  readonly code: NoteCode;
  readonly severity: NoteSeverity;
  readonly text: string;
}

/** Make a note; its severity comes from the table. */
export function note(code: NoteCode, text: string): Note {
  return { code, severity: NOTE_CODES[code].severity, text };
}
