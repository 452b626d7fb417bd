// cli: the process's streams and environment → what a command may write to, and in which colours.
import { ToolError } from "../core/errors.js";
import { diskReason } from "../report/output-error.js";

/** The part of a stream that commands need. */
export interface TextStream {
  readonly isTTY?: boolean | undefined;
  write(text: string, done?: (error?: Error | null) => void): boolean;
  on(event: "error", listener: (error: Error) => void): unknown;
}

/** The streams and the environment that a run of the command sees. */
export interface Surroundings {
  readonly out: TextStream;
  readonly err: TextStream;
  readonly env: Readonly<Record<string, string | undefined>>;
}

/** Styles a piece of text, or gives it back as it is where colours are off. */
export interface Styles {
  readonly bold: (text: string) => string;
  readonly dim: (text: string) => string;
  readonly warn: (text: string) => string;
}

/** What a command writes with. */
export interface CommandOutput {
  /** Results: stdout, as one text or in pieces. Resolves when all has left. */
  readonly result: (text: string | Iterable<string>) => Promise<void>;
  /** Everything else: stderr. */
  readonly remark: (text: string) => Promise<void>;
  /** For stdout. */
  readonly styles: Styles;
  /** True if stderr is a terminal that a line of progress can be redrawn on. */
  readonly canRedraw: boolean;
}

/** Open the output of a run. A reader that has gone away (`| head`) is no fault: what it does not want is dropped. */
export function openOutput({ out, err, env }: Surroundings): CommandOutput {
  // Without a listener a broken pipe would end the process with a stack.
  out.on("error", () => {});
  err.on("error", () => {});
  return {
    result: (text) => writeAll(out, typeof text === "string" ? [text] : text),
    remark: (text) => writeAll(err, [text]),
    styles: stylesFor(takesColours(out, env)),
    canRedraw: err.isTTY === true && env["TERM"] !== "dumb",
  };
}

/** True if a stream is a terminal that takes colours and nobody has asked for none (no-color.org). */
export function takesColours(stream: TextStream, env: Surroundings["env"]): boolean {
  const refused = env["NO_COLOR"] !== undefined && env["NO_COLOR"] !== "";
  return stream.isTTY === true && !refused && env["TERM"] !== "dumb";
}

/** Styles by SGR codes of ECMA-48, 8.3.117. */
export function stylesFor(coloured: boolean): Styles {
  const style = (open: number, close: number) => (text: string) =>
    coloured ? `\u001b[${open}m${text}\u001b[${close}m` : text;
  return { bold: style(1, 22), dim: style(2, 22), warn: style(33, 39) };
}

/** Words for people are made visible where they are worded. JSON, which escapes the lower control characters alone, may
 *  still hold upper ones, which terminals obey as well, and marks that turn the reading direction: only inside its
 *  strings, where `\u` with its number says the same. */
function tameText(text: string): string {
  return text.replace(
    /[\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]/g,
    (character) => `\\u${character.charCodeAt(0).toString(16).padStart(4, "0")}`,
  );
}

/** Write one piece after the other, until the reader has gone away. */
async function writeAll(stream: TextStream, pieces: Iterable<string>): Promise<void> {
  for (const piece of pieces) if (!(await writePiece(stream, tameText(piece)))) return;
}

/** @returns false if nobody reads any more. */
function writePiece(stream: TextStream, text: string): Promise<boolean> {
  return new Promise((resolve, reject) => {
    stream.write(text, (error) => {
      const code = error && "code" in error ? String(error.code) : "";
      if (!error) resolve(true);
      else if (code === "EPIPE" || code === "ERR_STREAM_DESTROYED") resolve(false);
      else {
        reject(
          new ToolError("E_OUTPUT", {
            problem: `expected to write the result to the output, but ${diskReason(code ? error : error.message)}`,
            fix: "Send the output to a place with room that may be written to",
          }),
        );
      }
    });
  });
}
