// read: the name of a file → whether it may be a frame, and the ending that it is kept under. Apart from the readers:
// the page looks for frames by their names, too.

/** Names that a folder or an open pattern is searched for. A file that is named outright may be called anything. */
export const FRAME_EXTENSIONS = Object.freeze([".csv", ".txt", ".tsv", ".dat", ".png", ".tif", ".tiff"]);

/** Say whether a file has the name of a frame. @param file with or without the folders that it lies in. */
export function isFrameName(file: string): boolean {
  return FRAME_EXTENSIONS.includes(endingOf(file));
}

/** Tell the ending under which a frame is kept: it may be called anything, but what is kept has an ending that a
 *  person's programs know, or `.bin`. */
export function keptEnding(file: string): string {
  return isFrameName(file) ? endingOf(file) : ".bin";
}

/** Ending of a name, in small letters; "" where there is none, or nothing before it. */
function endingOf(file: string): string {
  const name = file.slice(file.lastIndexOf("/") + 1);
  const dot = name.lastIndexOf(".");
  return dot > 0 ? name.slice(dot).toLowerCase() : "";
}
