// import: the bytes of a file → a board map, whether it is a centroid table or an SVG drawing.
import { ToolError } from "../core/errors.js";
import { decodeText } from "./decode-text.js";
import { refuseLarge } from "./finish-import.js";
import { importCentroids } from "./import-centroids.js";
import type { ImportedBoard, ImportOptions } from "./import-options.js";
import { importSvg } from "./import-svg.js";

/** Make a board map of a centroid table or an SVG drawing, told apart by what is in the file.
 *  @param bytes UTF-8 or UTF-16; a table in neither is read as Windows-1252, in which older programs write.
 *  @throws ToolError E_TEXT_ENCODING, and what `importCentroids` and `importSvg` throw. */
export function importBoard(bytes: Uint8Array, file: string, options: ImportOptions = {}): ImportedBoard {
  refuseLarge("bytes", bytes.length, file);
  const text = textOf(bytes, file);
  return isDrawing(text) ? importSvg(text, file, options) : importCentroids(text, file, options);
}

/** True if a text begins as XML does. */
export function isDrawing(text: string): boolean {
  return /^\s*<[?!A-Za-z]/.test(text);
}

function textOf(bytes: Uint8Array, file: string): string {
  try {
    return decodeText(bytes, file);
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    throw new ToolError(error.code, {
      ...error.parts,
      fix: "Give a centroid table or an SVG drawing, as text in UTF-8; one that is compressed must be unpacked first",
    });
  }
}
