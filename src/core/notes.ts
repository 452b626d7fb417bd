// core: something worth saying that stops nothing → a note with a code, a severity and a sentence.

/** How much a note matters. */
export type NoteSeverity = "info" | "warning";

/** Every note a user can meet, with its severity and meaning. The README's table is held against this one by a test. */
export const NOTE_CODES = Object.freeze({
  N_NOTHING_HOT: {
    severity: "info",
    meaning: "no hotspot; says the smallest rise that would have been seen",
  },
  N_POWERED_AVERAGED: { severity: "info", meaning: "several powered frames without a rate were averaged" },
  N_UNKNOWN_KEY: { severity: "warning", meaning: "a file holds a key that faultglow does not know" },
  N_BOARD_DOUBT: { severity: "warning", meaning: "something in the board map looks wrong but can be used" },
  N_UNIT_ASSUMED: { severity: "info", meaning: "no unit is stated: the values were read as °C" },
  N_UNIT_GUESSED: { severity: "warning", meaning: "no unit is stated: the values were taken for kelvin" },
  N_SEPARATOR_GUESSED: {
    severity: "warning",
    meaning: "commas between whole numbers were read as separators, not as decimal commas",
  },
  N_INDICES_SKIPPED: { severity: "info", meaning: "a row or column of indices was left out" },
  N_ROWS_JOINED: { severity: "info", meaning: "rows with blank lines between them were read as one frame" },
  N_OPTION_WINS: {
    severity: "warning",
    meaning: "two statements of unit or scale differ; says which one won",
  },
  N_SCALE_UNUSED: { severity: "info", meaning: "a scale was given for files that hold temperatures" },
  N_SATURATED: {
    severity: "warning",
    meaning: "more than 1 % of the pixels stand at an end of the scale; says how many",
  },
  N_PICTURE_GREY: {
    severity: "info",
    meaning: "a colour or palette picture was read because it is grey throughout",
  },
  N_ALIGNMENT_WEAK: {
    severity: "warning",
    meaning: "the frames could not be aligned with confidence and were compared as they are",
  },
  N_PIXELS_REPAIRED: {
    severity: "info",
    meaning: "faulty pixels of the sensor were taken from their neighbours",
  },
  N_FRAMES_LEFT_OUT: {
    severity: "warning",
    meaning:
      "frames of a burst that show the board elsewhere than the others, or something else, were left out",
  },
  N_SAME_FRAMES: {
    severity: "warning",
    meaning: "a file was given as baseline and as powered frame: nothing can have changed",
  },
  N_ROLES_SWAPPED: {
    severity: "warning",
    meaning: "a spot cooled far more than any warmed: baseline and powered frames may be the wrong way round",
  },
  N_DRIFT_LARGE: {
    severity: "warning",
    meaning: "the frames differ everywhere by more than drift can; the unit or the scale of one may be wrong",
  },
  N_VIEW_MISSING: {
    severity: "warning",
    meaning: "a board map was given without a view: no part can be named",
  },
  N_SHINY_LIMIT: {
    severity: "info",
    meaning: "says which rise of a shiny face, and how many watts under it, would not have been seen",
  },
  N_CYCLE: {
    severity: "info",
    meaning: "the supply was switched on and off: says the rhythm, and what rises and watts mean",
  },
  N_CYCLE_OTHER: {
    severity: "warning",
    meaning: "the frames hold a stronger rhythm than the one that was given",
  },
  N_PLATE_ASSUMED: { severity: "info", meaning: "says which constants of the plate the watts rest on" },
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
