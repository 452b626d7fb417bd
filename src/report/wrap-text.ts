// report: a text, a width and the width of each character → lines none of which is wider.

/** Width of a character in the unit of the line. */
export type Advance = (codePoint: number) => number;

/** Chinese and Japanese break between any two characters, but not before closing and not after opening marks. */
const SQUARE = /[⺀-鿿豈-﫿＀-｠]|[\u{20000}-\u{3ffff}]/u;
const NOT_FIRST = /[、。，．：；！？）」』】〉》”’…)\]},.;:!?%]/;
const NOT_LAST = /[（「『【〈《“‘([{]/;
/** Long names break after these. */
const BREAKS_AFTER = /[-/\\_–—]/;

/** Measure a text on one line. */
export function textWidth(text: string, advance: Advance): number {
  let sum = 0;
  for (const character of text) sum += advance(character.codePointAt(0) ?? 0);
  return sum;
}

/** Break a text into lines at blanks, hyphens, slashes and between Chinese characters; what is longer than a line by
 *  itself is cut between two characters. Nothing is left out but blanks at the ends of lines.
 *  @returns at least one line; no line is wider than `width`, unless a single character is.
 */
export function wrapText(text: string, width: number, advance: Advance): string[] {
  const lines: string[] = [];
  let line = "";
  let used = 0;
  const flush = (): void => {
    lines.push(line.trimEnd());
    line = "";
    used = 0;
  };
  for (const piece of breakable(text)) {
    const bare = piece.trimEnd();
    if (line !== "" && used + textWidth(bare, advance) > width) flush();
    if (textWidth(bare, advance) <= width) {
      line += piece;
      used += textWidth(piece, advance);
      continue;
    }
    for (const character of piece) {
      const wide = textWidth(character, advance);
      if (line !== "" && character !== " " && used + wide > width) flush();
      line += character;
      used += wide;
    }
  }
  if (line.trimEnd() !== "" || lines.length === 0) lines.push(line.trimEnd());
  return lines;
}

/** Pieces that stay together, each with the blanks behind it. */
function breakable(text: string): string[] {
  const characters = [...text];
  const pieces: string[] = [];
  let piece = "";
  characters.forEach((character, i) => {
    piece += character;
    const next = characters[i + 1];
    if (next === undefined || next === " ") return;
    const square =
      (SQUARE.test(character) || SQUARE.test(next)) && !NOT_FIRST.test(next) && !NOT_LAST.test(character);
    const after = BREAKS_AFTER.test(character) && piece.length > 1 && !/[\d ]/.test(next);
    if (character === " " || square || after) {
      pieces.push(piece);
      piece = "";
    }
  });
  if (piece !== "") pieces.push(piece);
  return pieces;
}
