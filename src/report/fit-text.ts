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
  for (const character of text) {
    if (SQUARE.test(character)) ems += 1;
    else if (NARROW.test(character)) ems += NARROW_EM;
    else if (WIDE.test(character)) ems += WIDE_EM;
    else if (/\p{Lu}/u.test(character)) ems += UPPER_EM;
    else if (/[\p{L}\p{N}]/u.test(character)) ems += ORDINARY_EM;
    else ems += WIDE_EM;
  }
  return bold ? ems * BOLD_FACTOR : ems;
}

/** Shorten a text to a width, `…` in place of what is left out. Names that are shortened in a plot stand whole in a table.
 *  @param width,size of the same unit, such as pt.
 *  @returns "" where not even one letter fits.
 */
export function fitText(text: string, width: number, size: number, bold = false): string {
  if (estimateWidth(text, bold) * size <= width) return text;
  const characters = [...text];
  for (let kept = characters.length - 1; kept > 0; kept--) {
    const shorter = `${characters.slice(0, kept).join("").trimEnd()}…`;
    if (estimateWidth(shorter, bold) * size <= width) return shorter;
  }
  return "";
}
