// report: any string → the same string with everything invisible or commanding made visible.

// Control characters (C0, DEL, C1), line and paragraph separators, marks that turn the reading direction, zero-width
// characters and lone surrogates: in a file name they could move a cursor, hide a part of the name, or reorder it.
const UNSAFE =
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what this looks for.
  /[\u0000-\u001f\u007f-\u009f\u00ad\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff9-\ufffb]|\p{Surrogate}/gu;

/** Replace control, direction-turning and zero-width characters by a readable escape such as `\x1b` or `\u202e`.
 *  For every file name, reference and sentence that leaves the tool for a terminal, a page or a picture.
 *  The escape can't be told from the same characters typed by someone; it is for reading, not for reading back.
 *  @returns one line of text that only prints.
 */
export function visibleText(text: string): string {
  return text.replace(UNSAFE, (character) => {
    const code = character.charCodeAt(0);
    return code <= 0xff
      ? `\\x${code.toString(16).padStart(2, "0")}`
      : `\\u${code.toString(16).padStart(4, "0")}`;
  });
}
