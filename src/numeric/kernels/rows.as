// kernels: lines of plain numbers → their values. As in scan-rows.ts, which reads whatever is written in another way.

/** Most digits whose whole number always fits 32 bits with a sign. */
const MOST_DIGITS: i32 = 9;
const TAB: u32 = 9;
const SPACE: u32 = 32;

/** Read lines until one is not all plain numbers: sign, up to nine digits with at most one decimal mark, blanks around.
 *  @param text u8, a line end behind the last line. @param starts @param ends i32, places of the lines in it.
 *  @param powers f64, of ten. @param values f64, room for half as many as there are bytes.
 *  @param counts i32 per line: its fields, negative if some are written with decimals.
 *  @returns how many lines were read.
 */
export function scanRows(
  text: usize,
  starts: usize,
  ends: usize,
  lines: i32,
  separator: u32,
  decimal: u32,
  powers: usize,
  values: usize,
  counts: usize,
): i32 {
  for (let i = 0; i < lines; i++) {
    const to = text + <usize>load<i32>(ends + (<usize>i << 2));
    let p = text + <usize>load<i32>(starts + (<usize>i << 2));
    let count = 0;
    let decimals = false;
    for (;;) {
      let c = <u32>load<u8>(p);
      while (c == SPACE || (c == TAB && separator != TAB)) c = <u32>load<u8>(++p);
      const negative = c == 45;
      if (negative || c == 43) c = <u32>load<u8>(++p);
      const from = p;
      let whole: i32 = 0;
      let digit = c - 48;
      while (digit < 10) {
        whole = whole * 10 + <i32>digit;
        digit = <u32>load<u8>(++p) - 48;
      }
      let digits = <i32>(p - from);
      let fraction = 0;
      if (digit + 48 == decimal) {
        const mark = ++p;
        digit = <u32>load<u8>(p) - 48;
        while (digit < 10) {
          whole = whole * 10 + <i32>digit;
          digit = <u32>load<u8>(++p) - 48;
        }
        fraction = <i32>(p - mark);
        digits += fraction;
        decimals = true;
      }
      if (digits == 0 || digits > MOST_DIGITS) return i;
      c = digit + 48;
      while (c == SPACE || (c == TAB && separator != TAB)) c = <u32>load<u8>(++p);
      if (p < to && c != separator) return i;
      const size = <f64>whole / load<f64>(powers + (<usize>fraction << 3));
      store<f64>(values, negative ? -size : size);
      values += 8;
      count++;
      if (p >= to) break;
      p++;
    }
    store<i32>(counts + (<usize>i << 2), decimals ? -count : count);
  }
  return lines;
}
