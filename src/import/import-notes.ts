// import: what was guessed or left out → notes, and lists that stay short.
import { type Note, note } from "../core/notes.js";

/** How many names a sentence lists. */
const LISTED = 12;

/** Make a note of something that a file leaves open. */
export function assumed(file: string, sentence: string): Note {
  return note("N_IMPORT_ASSUMED", `${file}: ${sentence}.`);
}

/** Join names, the first of them if there are many. */
export function listed(items: readonly string[], most = LISTED): string {
  const more = items.length - most;
  return items.slice(0, most).join(", ") + (more > 0 ? ` and ${more} more` : "");
}
