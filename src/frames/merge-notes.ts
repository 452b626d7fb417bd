// frames: the notes of many frames → few notes, so that a burst does not say one thing a thousand times.
import type { Note } from "../core/notes.js";

/** Notes of one code said in full before the rest is only counted. */
const IN_FULL = 3;

/** Merge the notes of many frames: repeats go, and beyond three of one code the rest is counted.
 *  @returns in order of first appearance by code.
 */
export function mergeNotes(notes: readonly Note[]): Note[] {
  const byCode = new Map<string, Note[]>();
  for (const one of notes) {
    const list = byCode.get(one.code) ?? [];
    if (!list.some((other) => other.text === one.text)) list.push(one);
    byCode.set(one.code, list);
  }
  return [...byCode.values()].flatMap((list) => {
    if (list.length <= IN_FULL) return list;
    const last = list[IN_FULL - 1]!;
    const rest = list.length - IN_FULL;
    return [...list.slice(0, IN_FULL - 1), { ...last, text: `${last.text} The same goes for ${rest} more.` }];
  });
}
