// core: what went wrong → an error that says what was expected, what was found, where, and what to do.

/** Every error a user can meet, with its meaning. The README's table is held against this one by a test. */
export const ERROR_CODES = Object.freeze({
  E_USAGE: "the words of the command can't be used",
  E_OUTPUT: "the folder for the results can't be written to",
  E_FRAME_SIZE: "frames that belong together differ in size",
  E_FRAME_NONE: "no frame matches a file name, folder or glob",
  E_FRAME_READ: "a frame's file is missing or can't be read",
  E_FRAME_EMPTY: "a frame's file is empty, or holds no reading at all",
  E_FRAME_TYPE: "a file is of a kind that holds no frame",
  E_FRAME_LARGE: "a frame is too large to be read",
  E_FRAME_INFINITE: "a frame holds infinite values",
  E_FRAME_RANGE: "temperatures lie outside what can be: the unit or the scale is wrong",
  E_TEXT_ENCODING: "a text frame is in an encoding that can't be read",
  E_TEXT_QUOTE: "a quoted field of a text frame never closes",
  E_TEXT_MATRIX: "no matrix of temperatures was found in a text file",
  E_TEXT_CELL: "a cell of a text frame is neither a number nor a word for no reading",
  E_TEXT_RAGGED: "a row of a text frame has more or fewer values than the others",
  E_UNIT: "the unit of temperature is unknown or stated twice",
  E_SCALE_NONE: "a picture of grey levels comes without a scale",
  E_SCALE_VALUE: "a scale can't be used",
  E_PNG_CORRUPT: "a PNG file is damaged or breaks the standard",
  E_PICTURE_COLOUR: "a coloured picture holds no temperatures",
  E_PICTURE_ALPHA: "a picture has transparent pixels",
  E_TIFF: "a TIFF file is damaged or of a form that can't be read",
  E_JSON_READ: "a JSON file is missing or can't be read",
  E_JSON_SIZE: "a JSON file is too large",
  E_JSON_SYNTAX: "a file is not valid JSON",
  E_BOARD_KIND: "a file given as a board map is something else, or of another version",
  E_BOARD_VALUE: "a value in a board map is missing or of the wrong sort",
  E_BOARD_POLYGON: "a polygon of a board map crosses itself or encloses no area",
  E_BOARD_REF: "two regions of a board map have the same ref",
  E_BOARD_OUTSIDE: "a region of a board map lies wholly outside the outline",
  E_VIEW_KIND: "a file given as a view is something else, or of another version",
  E_VIEW_VALUE: "a value in a view is missing or of the wrong sort",
  E_VIEW_FIDUCIALS: "the fiducials of a view repeat a place or lie on one line",
  E_VIEW_FIT: "the fiducials of a view contradict each other",
  E_VIEW_SIDE: "the fiducials of a view show the other side of the board",
  E_VIEW_FRAME: "a view does not fit the size of the frame",
  E_OTHER_VIEW:
    "frames of another view come without the board map and the two views that join them to the first",
  E_CYCLE_RATE: "cycled power is to be followed in frames without a rate",
  E_CYCLE_FRAMES: "there are too few frames to follow cycled power",
  E_CYCLE_PERIOD: "the period of cycled power is no number above 0, or too short for the frame rate",
  E_CYCLE_NONE: "nothing in the frames follows a rhythm",
} as const);

/** The code of an error a user can meet. */
export type ErrorCode = keyof typeof ERROR_CODES;

/** Where an error was met; the parts that are known. */
export interface ErrorPlace {
  readonly file?: string | undefined;
  /** 1-based. */
  readonly line?: number | undefined;
  /** 1-based. */
  readonly column?: number | undefined;
  /** Path inside a JSON file, such as `regions[3].polygon[1]`. */
  readonly path?: string | undefined;
}

/** The parts of a message, in the order in which they are said. */
export interface ErrorParts {
  /** What was found and what was expected: one sentence. */
  readonly problem: string;
  /** What the user can do: one sentence. */
  readonly fix: string;
  readonly place?: ErrorPlace;
}

/** An error in the user's input: exit status 2. Anything else that is thrown is a fault of ours: exit status 1. */
export class ToolError extends Error {
  readonly code: ErrorCode;
  readonly parts: ErrorParts;

  constructor(code: ErrorCode, parts: ErrorParts) {
    const place = parts.place ? placeText(parts.place) : "";
    super(`${code}: ${parts.problem}${place === "" ? "" : ` (${place})`}. ${parts.fix}.`);
    this.name = "ToolError";
    this.code = code;
    this.parts = parts;
  }
}

function placeText(place: ErrorPlace): string {
  const parts: string[] = [];
  if (place.file !== undefined) parts.push(place.file);
  if (place.line !== undefined) parts.push(`line ${place.line}`);
  if (place.column !== undefined) parts.push(`column ${place.column}`);
  if (place.path !== undefined) parts.push(`at ${place.path}`);
  return parts.join(", ");
}
