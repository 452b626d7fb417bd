// cli: the words after --tolerance → figures that readings are judged by, or an error that names those there are.
import { ToolError } from "../core/errors.js";
import { type ReadingFigures, SERIES_DEFAULTS } from "../readings/classify-readings.js";
import { numberOption } from "./number-option.js";

/** What `--tolerance` is for. */
export const TOLERANCE_HELP =
  "judge readings by other limits than the usual ones, such as diode-share=0.05 far-short-ohm=5; a reference's own tolerance goes first";

/** Names as they are written on the command line, with those of the figures. */
const NAMES: ReadonlyMap<string, string> = new Map(
  Object.keys(SERIES_DEFAULTS).map((name) => [name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`), name]),
);

/** Parse one `name=value` and add it to those before.
 *  @throws ToolError E_USAGE if there is no such figure, or its value is no number from 0 up.
 */
export function toleranceOption(word: string, before: ReadingFigures = {}): ReadingFigures {
  const at = word.indexOf("=");
  const name = NAMES.get(word.slice(0, Math.max(0, at)).trim());
  if (name === undefined) {
    throw new ToolError("E_USAGE", {
      problem: `--tolerance needs a name and a value, found "${word}"`,
      fix: `Write it such as diode-share=0.05; there are ${[...NAMES].map(([key, own]) => `${key} (${SERIES_DEFAULTS[own as keyof typeof SERIES_DEFAULTS]})`).join(", ")}`,
    });
  }
  const value = numberOption(`--tolerance ${word.slice(0, at)}`, { what: "a number from 0 up" })(
    word.slice(at + 1),
  );
  if (value < 0) {
    throw new ToolError("E_USAGE", {
      problem: `--tolerance ${word.slice(0, at)} needs a number from 0 up, found "${word.slice(at + 1)}"`,
      fix: "Write 0 or more: shares as fractions, the others in the unit that ends the name",
    });
  }
  return { ...before, [name]: value };
}
