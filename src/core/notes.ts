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
  N_RATE_UNUSED: {
    severity: "warning",
    meaning: "a rate was given for one powered frame, which is no burst",
  },
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
  N_TEMPERATURE_DOUBT: {
    severity: "warning",
    meaning:
      "the baseline is colder or hotter than a bench without power: the unit or the scale may be wrong",
  },
  N_ALIGNMENT_WEAK: {
    severity: "warning",
    meaning: "the frames could not be aligned with confidence and were compared as they are",
  },
  N_NO_READING: {
    severity: "warning",
    meaning:
      "pixels inside the picture have no reading; heat there can't be seen, and what lies beside it is unsure",
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
  N_FRAME_TWICE: {
    severity: "info",
    meaning: "a frame was named more than once, such as by its folder and by itself, and counts once",
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
  N_RISE_STRANGE: {
    severity: "warning",
    meaning:
      "a change is larger than a mirrored person makes on that face, but does not spread as heat in the board does: the map, its place, a finish or what is there is otherwise than told",
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
  N_IMPORT_ASSUMED: {
    severity: "warning",
    meaning: "an imported file leaves something open; says how it was read",
  },
  N_IMPORT_LEFT_OUT: { severity: "info", meaning: "says what of an imported file is not in the board map" },
  N_POWER_DIVIDED: {
    severity: "info",
    meaning: "two attempts were compared; says what of their input power was divided out, and by what",
  },
  N_TIME_ASSUMED: {
    severity: "info",
    meaning: "two attempts were compared; says what is taken of the time between power-on and frame",
  },
  N_TIME_DIFFERS: {
    severity: "warning",
    meaning:
      "two attempts show the board at other times after power-on, as was told or as far as heat had spread: ratios are less certain",
  },
  N_CYCLE_COMPARED: {
    severity: "warning",
    meaning:
      "the supply was switched on and off in one of two attempts alone, or one was analysed by an older version: their strengths can't be compared",
  },
  N_OTHER_SIDE_SEEN: {
    severity: "warning",
    meaning: "two attempts show different sides of the board; what one of them does not see is left unsure",
  },
  N_MAP_CHANGED: {
    severity: "warning",
    meaning: "the board map was changed between two attempts; says which parts are on one of them alone",
  },
  N_PIXELS_COMPARED: {
    severity: "warning",
    meaning: "without a board two attempts were compared in pixels, as if the camera had not moved",
  },
  N_PROFILE_FEW: {
    severity: "warning",
    meaning: "a healthy profile comes from few attempts, so its scatter is hardly known",
  },
  N_PLATE_ASSUMED: { severity: "info", meaning: "says which constants of the plate the watts rest on" },
  N_TIME_DOUBT: {
    severity: "warning",
    meaning:
      "heat has spread otherwise than by the time since power-on that was told, and the fit is clearly worse by it",
  },
  N_JOB_TORN: {
    severity: "warning",
    meaning: "the last line of a job's journal was cut short while it was written and does not count",
  },
  N_JOB_UNFINISHED: {
    severity: "warning",
    meaning: "a job's folder holds an attempt that its journal does not speak of",
  },
  N_JOB_STRAY: { severity: "info", meaning: "a job's folder holds files that are no part of the job" },
  N_JOB_VERSION: {
    severity: "info",
    meaning: "an attempt was analysed by another version; says whether the answer is the same",
  },
  N_JOB_DIGITS: {
    severity: "warning",
    meaning: "computed again, findings differ in the last digits of numbers alone",
  },
  N_JOB_NAME: {
    severity: "warning",
    meaning:
      "a reading, an action or the rail of an attempt names a board, part or net that no map of the job has",
  },
  N_JOB_MAP: {
    severity: "warning",
    meaning: "a board map of a job was withdrawn; says what the job is left with",
  },
  N_JOB_REPEAT: {
    severity: "warning",
    meaning: "an attempt has the powered frames of an earlier one: it measures nothing anew",
  },
  N_JOB_POWER: {
    severity: "warning",
    meaning:
      "an attempt of a job has volts without amps, or amps without volts: what was fed in is not known",
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
