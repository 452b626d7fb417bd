// report: a text and a width → as much of the text as fits, with dots where something was left out.

/** Ems of characters that are narrower or wider than ordinary ones, an upper bound over the typefaces that a reader may
 *  have (measured on Noto Sans and DejaVu Sans; the latter is the widest that is common). */
const NARROW = /[iljIft.,:;'!()[\]{}/\\ r·-]/;
const WIDE = /[mwMW@%—→←…ÆæŒœŴŵŉ¼½¾]/;
const NARROW_EM = 0.45;
const WIDE_EM = 1.02;
const UPPER_EM = 0.8;
const ORDINARY_EM = 0.66;
/** Chinese, Japanese and Korean letters fill a square. */
const SQUARE = /[ᄀ-ᅟ⺀-鿿가-힣豈-﫿︰-﹏＀-｠￠-￦]|[\u{1f000}-\u{3ffff}]/u;
const BOLD_FACTOR = 1.1;

/** Estimate the width of a text from above, without knowing the reader's typeface.
 *  @returns ems.
 */
export function estimateWidth(text: string, bold = false): number {
  let ems = 0;
  for (const character of text) ems += emsOf(character);
  return bold ? ems * BOLD_FACTOR : ems;
}

function emsOf(character: string): number {
  if (SQUARE.test(character)) return 1;
  if (NARROW.test(character)) return NARROW_EM;
  if (WIDE.test(character)) return WIDE_EM;
  if (/\p{Lu}/u.test(character)) return UPPER_EM;
  return /[\p{L}\p{N}]/u.test(character) ? ORDINARY_EM : WIDE_EM;
}

/** Shorten a text to a width, `…` in place of what is left out. Names that are shortened in a plot stand whole in a
 *  table.
 *  @param width,size of the same unit, such as pt.
 *  @returns "" where not even one letter fits.
 */
export function fitText(text: string, width: number, size: number, bold = false): string {
  const room = width / (size * (bold ? BOLD_FACTOR : 1));
  let kept = "";
  let ems = 0;
  let shorter = "";
  // From the front, and no farther than there is room: a name may be a million letters long.
  for (const character of text) {
    ems += emsOf(character);
    if (ems > room) return shorter;
    kept += character;
    // Blanks before the dots are left out.
    if (character.trim() !== "" && ems + emsOf("…") <= room) shorter = `${kept}…`;
  }
  return text;
}
