// page: what was done in the editor → a line of its own that is read out; what went wrong goes where the whole page
// says it.
import { type Signal, signal } from "@preact/signals";
import { announce, takeBack } from "../state/announce.js";

/** What was last done; shown at the foot of the editor, where it covers nothing. */
export const lastSaid: Signal<string> = signal("");

let wrongSaid: number | null = null;

/** Say what was done, or, `isBad`, what went wrong, which is shown until something was done. */
export function say(text: string, isBad = false): void {
  takeBack(wrongSaid);
  if (isBad) wrongSaid = announce(text, true);
  else lastSaid.value = text;
}
