// report: how wide the columns of a table want to be and must be → widths that fill the page.

/** Wishes of one column, all of one unit. */
export interface ColumnWish {
  /** Width of the longest piece that should not be broken. */
  readonly least: number;
  /** Width of the longest text on one line; more is of no use. */
  readonly most: number;
  /** How much text its fullest cell holds: columns with more text get more of what is left. */
  readonly text: number;
}

/** Share out a width: everybody gets the least, the rest goes by how much text there is, so that the cells of a row
 *  come out about equally high. Where not even the least fits, the widest columns give way first, and their words are
 *  broken.
 *  @returns widths that sum to at most `total`.
 */
export function columnWidths(wishes: readonly ColumnWish[], total: number): number[] {
  const most = wishes.reduce((sum, wish) => sum + wish.most, 0);
  if (most <= total) return wishes.map((wish) => wish.most);
  const least = wishes.reduce((sum, wish) => sum + wish.least, 0);
  if (least <= total) return fill(wishes, total);
  const cap = capFor(wishes, total);
  return wishes.map((wish) => Math.min(wish.least, cap));
}

/** Widths are what each column's text asks for at one height of the row, held between least and most: the height is
 *  found by halving, since the sum of the widths falls with it.
 */
function fill(wishes: readonly ColumnWish[], total: number): number[] {
  const at = (height: number): number[] =>
    wishes.map(({ least, most, text }) => Math.min(most, Math.max(least, text / height)));
  const sum = (widths: readonly number[]): number => widths.reduce((all, width) => all + width, 0);
  let [low, high] = [0, 1];
  while (sum(at(high)) > total && high < MOST_LINES) high *= 2;
  for (let i = 0; i < HALVINGS; i++) {
    const middle = (low + high) / 2;
    if (sum(at(middle)) > total) low = middle;
    else high = middle;
  }
  return at(high);
}

/** No cell has more lines; columns are at their least by then. */
const MOST_LINES = 2 ** 30;
/** Down to a billionth of the first bracket. */
const HALVINGS = 60;

/** The width at which columns are cut so that all fit: found by giving narrow ones what they need first. */
function capFor(wishes: readonly ColumnWish[], total: number): number {
  const sorted = wishes.map((wish) => wish.least).sort((a, b) => a - b);
  let left = total;
  for (let i = 0; i < sorted.length; i++) {
    const share = left / (sorted.length - i);
    if (sorted[i]! > share) return share;
    left -= sorted[i]!;
  }
  return total;
}
