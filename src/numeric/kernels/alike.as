// kernels: a line whose numbers are all written alike → its values, four at a time. As in scan-rows.ts.

/** Bytes of a number with the separator behind it: two of them fit sixteen. */
const MOST_BYTES: i32 = 8;
/** Digits of a number: seven are a whole number of 32 bits in two parts of four. */
const MOST_DIGITS: i32 = 7;
const ZERO: u32 = 48;

/** How the last line's first number was written: bytes to the next one, and place of the decimal mark, −1 without one. */
let strideBytes: i32 = 0;
let markAt: i32 = -1;

/** Bytes from one number to the next, of those that `readAlike` read. */
export function alikeBytes(): i32 {
  return strideBytes;
}

/** Whether these have a decimal mark. */
export function alikeDecimal(): bool {
  return markAt >= 0;
}

/** Read numbers from the start of a line on for as long as each has digits and decimal mark where the first one has: no signs,
 *  no blanks. The last one of the line is left.
 *  @param from @param to places of the line; 31 bytes behind it can be read. @param powers f64, of ten.
 *  @param values f64, written.
 *  @returns how many were read.
 */
export function readAlike(
  from: usize,
  to: usize,
  separator: u32,
  decimal: u32,
  powers: usize,
  values: usize,
): i32 {
  if (!lookAt(from, to, separator, decimal)) return 0;
  const stride = strideBytes;
  // In most texts of another style the next numbers tell already.
  for (let k = 2; k <= 4; k++) if (<u32>load<u8>(from + <usize>(k * stride - 1)) != separator) return 0;
  const mark = markAt;
  const digits = stride - 1 - (mark >= 0 ? 1 : 0);
  // What a byte has beyond what stands there: nothing, or up to nine. Behind the second number all bytes will do.
  const plain = plainBytes(stride, mark, separator, decimal);
  const most = mostBytes(stride, mark);
  const first = digitPlaces(digits, mark, 0);
  const second = digitPlaces(digits, mark, stride);
  const power = f64x2.splat(load<f64>(powers + (<usize>(mark < 0 ? 0 : stride - 2 - mark) << 3)));
  const two = <usize>(2 * stride);
  let p = from;
  let count = 0;
  for (; p + 2 * two <= to; p += 2 * two, values += 32, count += 4) {
    const a = v128.xor(v128.load(p), plain);
    const b = v128.xor(v128.load(p + two), plain);
    if (v128.any_true(v128.or(i8x16.sub_sat_u(a, most), i8x16.sub_sat_u(b, most)))) break;
    v128.store(values, f64x2.div(wholePair(a, first, second), power));
    v128.store(values, f64x2.div(wholePair(b, first, second), power), 16);
  }
  return count;
}

/** How a line's first number is written. @returns false if not so that others like it are read here. */
function lookAt(from: usize, to: usize, separator: u32, decimal: u32): bool {
  let mark = -1;
  let i = 0;
  for (; i < MOST_BYTES && from + <usize>i < to; i++) {
    const c = <u32>load<u8>(from + <usize>i);
    if (c == separator) break;
    if (c - ZERO < 10) continue;
    if (c != decimal || mark >= 0) return false;
    mark = i;
  }
  strideBytes = i + 1;
  markAt = mark;
  const digits = i - (mark >= 0 ? 1 : 0);
  return i < MOST_BYTES && from + <usize>i < to && digits > 0 && digits <= MOST_DIGITS;
}

/** Two whole numbers of up to seven digits as doubles. @param digits bytes 0 … 9. @param first @param second where theirs are. */
@inline
function wholePair(digits: v128, first: v128, second: v128): v128 {
  const tens = i16x8(1000, 100, 10, 1, 1000, 100, 10, 1);
  const one = i32x4.dot_i16x8_s(i8x16.swizzle(digits, first), tens);
  const other = i32x4.dot_i16x8_s(i8x16.swizzle(digits, second), tens);
  // The upper four digits of both numbers in lanes 0 and 2, the lower four in lanes 1 and 3.
  const halves = i32x4.add(v128.shuffle<i32>(one, other, 0, 2, 4, 6), v128.shuffle<i32>(one, other, 1, 3, 5, 7));
  const parts = i32x4.mul(halves, i32x4(10_000, 1, 10_000, 1));
  const whole = i32x4.add(v128.shuffle<i32>(parts, parts, 0, 2, 0, 2), v128.shuffle<i32>(parts, parts, 1, 3, 1, 3));
  return f64x2.convert_low_i32x4_s(whole);
}

/** What stands at each of sixteen bytes: separator, mark, or the digit 0. */
function plainBytes(stride: i32, mark: i32, separator: u32, decimal: u32): v128 {
  let low: u64 = 0;
  let high: u64 = 0;
  for (let j = 0; j < 16; j++) {
    const k = j % stride;
    const byte = <u64>(k == stride - 1 ? separator : k == mark ? decimal : ZERO);
    if (j < 8) low |= byte << (j << 3);
    else high |= byte << ((j - 8) << 3);
  }
  return both(low, high);
}

/** By how much it may differ. */
function mostBytes(stride: i32, mark: i32): v128 {
  let low: u64 = 0;
  let high: u64 = 0;
  for (let j = 0; j < 16; j++) {
    const k = j % stride;
    const most: u64 = j >= 2 * stride ? 255 : k == stride - 1 || k == mark ? 0 : 9;
    if (j < 8) low |= most << (j << 3);
    else high |= most << ((j - 8) << 3);
  }
  return both(low, high);
}

/** Where the digits of a number are for eight lanes of 16 bits, the last digit in the last lane; beyond sixteen: nothing. */
function digitPlaces(digits: i32, mark: i32, offset: i32): v128 {
  let low: u64 = 0;
  let high: u64 = 0;
  for (let lane = 0; lane < 8; lane++) {
    const digit = lane - (8 - digits);
    const place = digit < 0 ? 0x80 : offset + digit + (mark >= 0 && digit >= mark ? 1 : 0);
    const pair = 0x8000 | <u64>place;
    if (lane < 4) low |= pair << (lane << 4);
    else high |= pair << ((lane - 4) << 4);
  }
  return both(low, high);
}

@inline
function both(low: u64, high: u64): v128 {
  return i64x2.replace_lane(i64x2.splat(<i64>low), 1, <i64>high);
}
