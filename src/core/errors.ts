// core: what went wrong → an error that says what was expected, what was found, where, and what to do.

/** Every error a user can meet, with its meaning. The README's table is held against this one by a test. */
export const ERROR_CODES = Object.freeze({
  E_USAGE: "the words of the command can't be used",
  E_OUTPUT: "the folder for the results can't be written to",
  E_MACHINE: "this machine is not fit for the work yet",
  E_FRAME_SIZE: "frames that belong together differ in size",
  E_FRAME_NONE: "no frame matches a file name, folder or pattern",
  E_FRAME_READ: "a frame's file is missing or can't be read",
  E_FRAME_EMPTY: "a frame's file is empty, or holds no reading at all",
  E_FRAME_TYPE: "a file is of a kind that holds no frame",
  E_FRAME_LARGE: "a frame is too large to be read",
  E_FRAME_SPOOL: "there are more frames than can be held, and no room in the temporary folder",
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
  E_BOARD_VALUE:
    "a value in a board map is missing, of the wrong sort or no length of a board in millimetres",
  E_BOARD_POLYGON: "a polygon of a board map crosses itself or encloses no area",
  E_BOARD_REF: "two regions of a board map have the same ref",
  E_BOARD_OUTSIDE: "a region of a board map lies wholly outside the outline",
  E_VIEW_KIND: "a file given as a view is something else, or of another version",
  E_VIEW_VALUE: "a value in a view is missing or of the wrong sort",
  E_VIEW_FIDUCIALS: "the fiducials of a view repeat a place or lie on one line",
  E_VIEW_FIT:
    "the fiducials of a view contradict each other, are in another unit than the map, or put the board outside the frame",
  E_VIEW_SIDE: "the fiducials of a view show the other side of the board",
  E_VIEW_FRAME: "a view does not fit the size of the frame",
  E_OTHER_VIEW:
    "frames of another view come without the board map and the two views that join them to the first",
  E_READING_VALUE: "a reading is no number with a fitting unit, and no word for over-range",
  E_REFERENCE_TABLE: "a table of references has no column of values, or none that says where",
  E_REFERENCE_CELL: "a cell of a table of references can't be understood",
  E_PLACE_SIDE: "a view of one side can't be carried over to a baseline of the other side",
  E_PLACE_DOUBT: "a new baseline could not be placed on the board with confidence: it needs fiducials",
  E_CYCLE_RATE: "cycled power is to be followed in frames without a rate",
  E_CYCLE_FRAMES: "there are too few frames to follow cycled power",
  E_CYCLE_LONG: "frames under cycled power are too many for their rhythm to be looked for",
  E_CYCLE_PERIOD: "the period of cycled power is no number above 0, or too short for the frame rate",
  E_CYCLE_NONE: "nothing in the frames follows a rhythm",
  E_FINDINGS_KIND: "a file given as findings is something else, or of another version",
  E_FINDINGS_VALUE: "a value in findings is missing or of the wrong sort",
  E_FINDINGS_PARTS:
    "findings say nothing of the single parts: they were made without a board, or by an older version",
  E_COMPARE_BOARD: "findings to be compared are of different boards",
  E_COMPARE_FRAME: "findings without a board can't be compared in pixels",
  E_COMPARE_PART: "a part that something was done to is not on the board",
  E_PROFILE_KIND: "a file given as a healthy profile is something else, or of another version",
  E_PROFILE_VALUE: "a value in a profile is missing or of the wrong sort",
  E_IMPORT_READ: "a table or drawing to import is missing or can't be read",
  E_IMPORT_LARGE: "a table or drawing to import is too large",
  E_IMPORT_HEADER: "a centroid table has no line that names its columns",
  E_IMPORT_CELL: "a cell of a centroid table is missing or holds something else than its column",
  E_IMPORT_PACKAGE: "the body size of a package in a centroid table is not known",
  E_IMPORT_OUTLINE: "the outline of a board to import was not found",
  E_SVG_SYNTAX: "a drawing is not well-formed XML, or no SVG",
  E_SVG_VALUE: "a value in an SVG drawing can't be used",
  E_WATCH_FOLDER: "a folder can't be watched",
  E_WATCH_ROLE: "nothing tells whether frames are baseline or powered",
  E_WATCH_TWICE: "another process watches a folder for the same job already",
  E_JOB_NONE: "a folder holds no job",
  E_JOB_EXISTS: "a new job was to be made where there is something already",
  E_JOB_KIND: "a file of a job is something else, or of another version",
  E_JOB_VALUE: "a value in a file of a job is missing or of the wrong sort",
  E_JOB_JOURNAL: "the journal of a job is damaged, or its past was changed",
  E_JOB_HASH: "a file of a job is missing or was changed",
  E_JOB_FINDINGS: "the findings of an attempt come out otherwise when they are computed again",
  E_JOB_LOCKED: "another process writes to the job",
  E_JOB_WRITE: "the disk refuses what a job needs",
  E_JOB_BOARD: "it is not clear which board of a job is meant",
  E_JOB_ENTRY: "a line of the journal can't be withdrawn",
  E_JOB_PACK: "a pack can't be made or opened",
  E_BENCH_PORT: "the bench can't listen at a port",
  E_BENCH_REFUSED: "the bench was asked by a page or program that is not its own",
  E_BENCH_REQUEST: "the bench was sent something that it can't read",
  E_BENCH_NONE: "the bench has no such job, file or task",
  E_BENCH_LARGE: "something sent to the bench is too large",
  E_BENCH_SLOW: "something sent to the bench stopped coming",
  E_BENCH_WORK: "a process of the bench ended before its work was done",
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

/** Say where an error was met: `off.csv, line 3, column 5`. */
export function placeText(place: ErrorPlace): string {
  const parts: string[] = [];
  if (place.file !== undefined) parts.push(place.file);
  if (place.line !== undefined) parts.push(`line ${place.line}`);
  if (place.column !== undefined) parts.push(`column ${place.column}`);
  if (place.path !== undefined) parts.push(`at ${place.path}`);
  return parts.join(", ");
}
