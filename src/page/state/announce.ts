// page: a result → said to whoever does not see it, and shown for a while.
import { type Signal, signal } from "@preact/signals";
import { ToolError } from "../../core/errors.js";
import { capitalised } from "../../core/sentence-case.js";

/** What was last said; `id` tells one saying from the next of the same words. */
export const said: Signal<{ readonly id: number; readonly text: string; readonly isBad: boolean }> = signal({
  id: 0,
  text: "",
  isBad: false,
});

/** Say a result in the live region. @returns its id, for `takeBack` */
export function announce(text: string, isBad = false): number {
  said.value = { id: said.value.id + 1, text, isBad };
  return said.value.id;
}

/** Take back what was said, once its cause is mended; whatever was said since stays. */
export function takeBack(id: number | null): void {
  if (said.peek().id === id) said.value = { ...said.peek(), text: "", isBad: false };
}

/** Say what went wrong, in the words that the error brings. Its code is for scripts: the server's answers come without
 *  it, too. */
export function announceError(error: unknown): number {
  const text = error instanceof Error ? error.message : String(error);
  return announce(
    capitalised(error instanceof ToolError ? text.slice(`${error.code}: `.length) : text),
    true,
  );
}
