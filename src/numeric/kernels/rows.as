// kernels: lines of plain numbers → their values. As in scan-rows.ts, which reads whatever is written in another way.
import { alikeBytes, alikeDecimal, readAlike } from "./alike";

/** Most digits whose whole number always fits 32 bits with a sign. */
const MOST_DIGITS: i32 = 9;
const TAB: u32 = 9;
const SPACE: u32 = 32;
const MINUS: u32 = 45;
const PLUS: u32 = 43;
const ZERO: u32 = 48;
/** Eight bytes each; what is added to a digit brings all above nine to the upper bit. */
const ZEROS: u64 = 0x3030303030303030;
const BEYOND_NINE: u64 = 0x7676767676767676;
const UPPER_BITS: u64 = 0x8080808080808080;
const EVERY_FOURTH: u64 = 0x000000ff000000ff;

/** How the text is written, for all fields of a call. */
let separatorByte: u32 = 0;
let decimalByte: u32 = 0;
let powersAt: usize = 0;

/** What a field is. */
const NO_PLAIN_NUMBER: i32 = 0;
const WHOLE: i32 = 1;
const DECIMAL: i32 = 2;

/** Read lines until one is not all plain numbers: sign, up to nine digits with at most one decimal mark, blanks around.
 *  The ends of a line's fields are found for 64 bytes at a time; each field is then read backwards from its end, so
 *  that none waits for the one before it.
 *  @param text u8, a line end behind the last line; the eight bytes before it can be read, and 63 behind that line end: none of
 *    them counts. @param starts @param ends i32, places of the lines in it. @param powers f64, of ten.
 *  @param values f64, room for half as many as there are bytes.
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
  separatorByte = separator;
  decimalByte = decimal;
  powersAt = powers;
  // In two places, so that the compiler leaves it a function of its own: the loop below would be slower with it inside.
  let alike = lines > 0 ? alikeIn(text, starts, ends, values) : 0;
  for (let i = 0; i < lines; i++) {
    if (i > 0) alike = alikeIn(text, starts + (<usize>i << 2), ends + (<usize>i << 2), values);
    const to = text + <usize>load<i32>(ends + (<usize>i << 2));
    let from = text + <usize>load<i32>(starts + (<usize>i << 2)) + <usize>(alike * alikeBytes());
    const first = values;
    values += <usize>alike << 3;
    let met = alike == 0 ? 0 : alikeDecimal() ? DECIMAL : WHOLE;
    for (let block = from; block <= to; block += 64) {
      let ended = separatorsIn(block);
      const left = to - block;
      if (left < 64) ended = (ended & ((<u64>1 << left) - 1)) | (<u64>1 << left);
      while (ended != 0) {
        const end = block + <usize>ctz(ended);
        const found = readField(from, end, values);
        if (found == NO_PLAIN_NUMBER) return i;
        met |= found;
        values += 8;
        from = end + 1;
        ended &= ended - 1;
      }
    }
    const count = <i32>((values - first) >> 3);
    store<i32>(counts + (<usize>i << 2), (met & DECIMAL) != 0 ? -count : count);
  }
  return lines;
}

/** How many numbers a line begins with that are all written alike; they are read. @param start @param end i32. */
@inline
function alikeIn(text: usize, start: usize, end: usize, values: usize): i32 {
  const from = text + <usize>load<i32>(start);
  return readAlike(from, text + <usize>load<i32>(end), separatorByte, decimalByte, powersAt, values);
}

/** Which of 64 bytes are separators, one bit each. */
@inline
function separatorsIn(block: usize): u64 {
  const wanted = i8x16.splat(<i8>separatorByte);
  const a = <u64>i8x16.bitmask(i8x16.eq(v128.load(block), wanted));
  const b = <u64>i8x16.bitmask(i8x16.eq(v128.load(block, 16), wanted));
  const c = <u64>i8x16.bitmask(i8x16.eq(v128.load(block, 32), wanted));
  const d = <u64>i8x16.bitmask(i8x16.eq(v128.load(block, 48), wanted));
  return a | (b << 16) | (c << 32) | (d << 48);
}

/** Read a field of up to eight bytes without sign or blanks: all at once, as one number of 64 bits; another one goes the slow
 *  way.
 *  @returns what the field is.
 */
@inline
function readField(start: usize, end: usize, value: usize): i32 {
  const bits = <u32>(end - start) << 3;
  if (bits - 8 > 56) return readSlowly(start, end, value);
  // Its last byte is the uppermost; what stands before the field counts as zero.
  let digits = (load<u64>(end - 8) ^ ZEROS) & (~(<u64>0) << (64 - bits));
  let fraction: usize = 0;
  let found = WHOLE;
  // The upper bit of each byte that is no digit.
  const others = (digits | (digits + BEYOND_NINE)) & UPPER_BITS;
  if (others != 0) {
    const mark = ctz(others) - 7;
    const point = ((digits >> mark) & 0xff) == <u64>(decimalByte ^ ZERO);
    if (!point || (others & (others - 1)) != 0 || bits == 8) return readSlowly(start, end, value);
    // What stands before the mark moves up to what follows it.
    const below = ((<u64>1) << mark) - 1;
    digits = ((digits & below) << 8) | (digits & ~((below << 8) | 0xff));
    fraction = <usize>(56 - mark);
    found = DECIMAL;
  }
  // Of two digits, of four, and all.
  digits = digits * 10 + (digits >> 8);
  const whole =
    ((digits & EVERY_FOURTH) * (100 + (1_000_000 << 32)) + ((digits >> 16) & EVERY_FOURTH) * (1 + (10_000 << 32))) >> 32;
  store<f64>(value, <f64>(<i32>whole) / load<f64>(powersAt + fraction));
  return found;
}

/** The same byte by byte, with a sign of either sort and blanks around. */
function readSlowly(start: usize, end: usize, value: usize): i32 {
  let p = skipBlanks(start, end);
  const negative = p < end && <u32>load<u8>(p) == MINUS;
  if (negative || (p < end && <u32>load<u8>(p) == PLUS)) p++;
  let whole: i32 = 0;
  let digits = 0;
  let fraction = -1;
  for (; p < end; p++) {
    const c = <u32>load<u8>(p);
    if (c - ZERO < 10) {
      whole = whole * 10 + <i32>(c - ZERO);
      digits++;
      if (fraction >= 0) fraction++;
    } else if (c == decimalByte && fraction < 0) fraction = 0;
    else break;
  }
  if (digits == 0 || digits > MOST_DIGITS || skipBlanks(p, end) != end) return NO_PLAIN_NUMBER;
  const size = <f64>whole / load<f64>(powersAt + (<usize>max(fraction, 0) << 3));
  store<f64>(value, negative ? -size : size);
  return fraction < 0 ? WHOLE : DECIMAL;
}

function skipBlanks(from: usize, end: usize): usize {
  let p = from;
  while (p < end && (<u32>load<u8>(p) == SPACE || (<u32>load<u8>(p) == TAB && separatorByte != TAB))) p++;
  return p;
}
