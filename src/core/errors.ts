// core: what went wrong → an error that says what was expected, what was found, where, and what to do.

/** Every error a user can meet, with its meaning. The README's table is held against this one by a test. */
export const ERROR_CODES = Object.freeze({
  E_USAGE: "the words of the command can't be used",
  E_FRAME_SIZE: "frames that belong together differ in size",
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
