// kernels: gradient of a picture → its noise, read between the centres of classes. As in noise-by-gradient.ts.

/** Without a branch: which class a pixel is of, noise decides anew for each.
 *  @param centres @param sigmas f64, `classes` each, rising; the centres are numbers of f32. @param gradient f32, n, none NaN.
 *  @param table scratch, 48 bytes a class. @param out f32.
 */
export function readClasses(
  centres: usize,
  sigmas: usize,
  classes: i32,
  growth: f64,
  gradient: usize,
  n: i32,
  table: usize,
  out: usize,
): void {
  const last = <usize>(classes - 1) << 3;
  // Of each class where it begins and how wide it is, then the noise there and how much it grows.
  store<f64>(table, 0);
  store<f64>(table, 1, 8);
  store<f64>(table, load<f64>(sigmas), 16);
  store<f64>(table, 0, 24);
  // Behind these rows where each begins, four times, to be held against four gradients at once.
  const begins = table + <usize>(classes << 5);
  for (let k: usize = 0; k < last; k += 8) {
    v128.store(begins + 2 * k, f32x4.splat(<f32>load<f64>(centres + k)));
  }
  for (let k: usize = 8; k <= last; k += 8) {
    const row = table + 4 * k;
    const width = load<f64>(centres + k) - load<f64>(centres + k - 8);
    store<f64>(row, load<f64>(centres + k - 8));
    store<f64>(row, width != 0 ? width : 1, 8);
    store<f64>(row, load<f64>(sigmas + k - 8), 16);
    store<f64>(row, load<f64>(sigmas + k) - load<f64>(sigmas + k - 8), 24);
  }
  const all = <usize>n << 2;
  let at: usize = 0;
  for (; at + 32 <= all; at += 32) {
    const four = v128.load(gradient + at);
    const next = v128.load(gradient + at, 16);
    let above = i32x4.splat(0);
    let beyond = i32x4.splat(0);
    for (let begin = begins; begin < begins + 2 * last; begin += 16) {
      const limit = v128.load(begin);
      above = i32x4.sub(above, f32x4.gt(four, limit));
      beyond = i32x4.sub(beyond, f32x4.gt(next, limit));
    }
    v128.store(out + at, readFour(four, above, table, centres + last, sigmas + last, growth));
    v128.store(out + at, readFour(next, beyond, table, centres + last, sigmas + last, growth), 16);
  }
  for (; at < all; at += 4) {
    const one = v128.load32_zero(gradient + at);
    let k = 0;
    for (let j: usize = 0; j < last; j += 8) if (<f64>load<f32>(gradient + at) > load<f64>(centres + j)) k++;
    v128.store32_lane(out + at, readTwo(one, k, 0, table, centres + last, sigmas + last, growth), 0);
  }
}

/** The noise at four gradients. @param rows the rows of the table that they belong to. */
@inline
function readFour(four: v128, rows: v128, table: usize, highest: usize, most: usize, growth: f64): v128 {
  const i = i32x4.extract_lane(rows, 0);
  const j = i32x4.extract_lane(rows, 1);
  const k = i32x4.extract_lane(rows, 2);
  const l = i32x4.extract_lane(rows, 3);
  const high = v128.shuffle<i64>(four, four, 1, 1);
  const left = readTwo(four, i, j, table, highest, most, growth);
  return v128.shuffle<i64>(left, readTwo(high, k, l, table, highest, most, growth), 0, 2);
}

/** The noise at two gradients, from the rows of the table that they belong to. @param highest @param most the last of each list. */
@inline
function readTwo(two: v128, k: i32, l: i32, table: usize, highest: usize, most: usize, growth: f64): v128 {
  const at = f64x2.promote_low_f32x4(two);
  const first = table + (<usize>k << 5);
  const second = table + (<usize>l << 5);
  const a = v128.load(first);
  const b = v128.load(second);
  const c = v128.load(first, 16);
  const d = v128.load(second, 16);
  const from = v128.shuffle<i64>(a, b, 0, 2);
  const width = v128.shuffle<i64>(a, b, 1, 3);
  const noise = v128.shuffle<i64>(c, d, 0, 2);
  const more = v128.shuffle<i64>(c, d, 1, 3);
  const between = f64x2.add(noise, f64x2.mul(f64x2.div(f64x2.sub(at, from), width), more));
  const beyond = f64x2.max(v128.load64_splat(most), f64x2.mul(f64x2.splat(growth), at));
  return f32x4.demote_f64x2_zero(v128.bitselect(beyond, between, f64x2.ge(at, v128.load64_splat(highest))));
}

/** Sort numbers of f32 of which none is negative; NaN comes last.
 *  @param values f32, sorted in place. @param other scratch, f32, n. @param tally scratch, i32, 2048.
 *  @returns false, with nothing changed, if one has a minus sign, which −0 and a NaN can have too.
 */
export function sortPositive(values: usize, n: i32, other: usize, tally: usize): bool {
  const all = <usize>n << 2;
  let signs: u32 = 0;
  for (let at: usize = 0; at < all; at += 4) signs |= load<u32>(values + at);
  if (signs >> 31 != 0) return false;
  sortBits(values, n, other, tally);
  return true;
}

/** Sort numbers of f32 of any sign, none of them NaN; −0 comes before 0. @param values @param other @param tally as above. */
export function sortNumbers(values: usize, n: i32, other: usize, tally: usize): void {
  const end = values + (<usize>n << 2);
  // With the sign turned round, and all other bits of what is negative, bits rise with the numbers.
  for (let at = values; at < end; at += 4) {
    const bits = load<u32>(at);
    store<u32>(at, bits ^ (<u32>(<i32>bits >> 31) | 0x80000000));
  }
  sortBits(values, n, other, tally);
  for (let at = values; at < end; at += 4) {
    const bits = load<u32>(at);
    store<u32>(at, bits ^ (<u32>(~<i32>bits >> 31) | 0x80000000));
  }
}

/** Sort numbers of u32, by eleven bits at a time, from the lowest. */
function sortBits(values: usize, n: i32, other: usize, tally: usize): void {
  const all = <usize>n << 2;
  let from = values;
  let to = other;
  for (let shift: u32 = 0; shift < 32; shift += 11) {
    memory.fill(tally, 0, 2048 * 4);
    for (let at: usize = 0; at < all; at += 4) {
      const place = tally + <usize>(((load<u32>(from + at) >> shift) & 2047) << 2);
      store<i32>(place, load<i32>(place) + 1);
    }
    let before = 0;
    for (let bin: usize = 0; bin < 2048 * 4; bin += 4) {
      const count = load<i32>(tally + bin);
      store<i32>(tally + bin, before);
      before += count;
    }
    for (let at: usize = 0; at < all; at += 4) {
      const bits = load<u32>(from + at);
      const place = tally + <usize>(((bits >> shift) & 2047) << 2);
      const index = load<i32>(place);
      store<i32>(place, index + 1);
      store<u32>(to + (<usize>index << 2), bits);
    }
    const next = from;
    from = to;
    to = next;
  }
  memory.copy(values, from, all);
}

/** Take every so many of two lists of numbers, as far as the first is a reading.
 *  @param data @param gradient f32, n. @param values @param slopes f32, written. @returns how many there are.
 */
export function pickKnown(data: usize, gradient: usize, n: i32, step: i32, values: usize, slopes: usize): i32 {
  const from = values;
  for (let i = 0; i < n; i += step) {
    const value = load<f32>(data + (<usize>i << 2));
    store<f32>(values, value);
    store<f32>(slopes, load<f32>(gradient + (<usize>i << 2)));
    if (value * 0 != 0) continue;
    values += 4;
    slopes += 4;
  }
  return <i32>((values - from) >> 2);
}
