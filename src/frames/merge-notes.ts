// frames: the notes of many frames → few notes, so that a burst does not say one thing a thousand times.
import type { Note } from "../core/notes.js";

/** Notes of one code said in full before the rest is only counted: a warning names its first files. */
const IN_FULL = Object.freeze({ info: 1, warning: 3 });

/** Merge the notes of many frames: repeats go, and beyond one (a warning: three) of a code the rest is counted.
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
    const full = IN_FULL[list[0]!.severity];
    if (list.length <= full) return list;
    const last = list[full - 1]!;
    const text = `${last.text} The same goes for ${list.length - full} more.`;
    return [...list.slice(0, full - 1), { ...last, text }];
  });
}
