// kernels: inflated bytes of a picture → its levels, and levels → °C. As in unfilter-png.ts, unpack-png.ts and apply-scale.ts.

/** Undo the filters of the rows of a picture, in place; each begins with the byte of its filter.
 *  @param step bytes from a sample to its left neighbour.
 *  @returns false if a filter is none of 0 … 4; what is there is of no use then.
 */
export function unfilter(raw: usize, rowBytes: i32, rows: i32, step: i32): bool {
  const stride = rowBytes + 1;
  for (let y = 0; y < rows; y++) {
    const from = raw + <usize>(y * stride) + 1;
    const filter = load<u8>(from - 1);
    if (filter == 0) continue;
    if (filter > 4) return false;
    // Above the first row all bytes count as zero: Up changes nothing, Paeth is Sub.
    if (filter == 1 || (filter == 4 && y == 0)) undoSub(from, rowBytes, step);
    else if (filter == 2 && y > 0) undoUp(from, rowBytes, stride);
    else if (filter == 3) undoAverage(from, rowBytes, step, y == 0 ? 0 : stride);
    else if (filter == 4) undoPaeth(from, rowBytes, step, stride);
  }
  return true;
}

function undoSub(from: usize, bytes: i32, step: i32): void {
  const end = from + bytes;
  for (let i = from + step; i < end; i++) store<u8>(i, load<u8>(i) + load<u8>(i - step));
}

function undoUp(from: usize, bytes: i32, stride: i32): void {
  const end = from + bytes;
  let i = from;
  for (; i + 16 <= end; i += 16) v128.store(i, i8x16.add(v128.load(i), v128.load(i - stride)));
  for (; i < end; i++) store<u8>(i, load<u8>(i) + load<u8>(i - stride));
}

/** @param stride 0 where there is no row above. */
function undoAverage(from: usize, bytes: i32, step: i32, stride: i32): void {
  for (let k = 0; k < bytes; k++) {
    const i = from + k;
    const left: u32 = k < step ? 0 : <u32>load<u8>(i - step);
    const up: u32 = stride == 0 ? 0 : <u32>load<u8>(i - stride);
    store<u8>(i, load<u8>(i) + <u8>((left + up) >> 1));
  }
}

function undoPaeth(from: usize, bytes: i32, step: i32, stride: i32): void {
  for (let k = 0; k < bytes; k++) {
    const i = from + k;
    const up = <i32>load<u8>(i - stride);
    let by = up;
    if (k >= step) {
      const left = <i32>load<u8>(i - step);
      const corner = <i32>load<u8>(i - stride - step);
      const pa = abs(up - corner);
      const pb = abs(left - corner);
      const pc = abs(left + up - 2 * corner);
      if (pa <= pb && pa <= pc) by = left;
      else if (pb > pc) by = corner;
    }
    store<u8>(i, load<u8>(i) + <u8>by);
  }
}

/** Bytes of samples of 16 bits, the upper one first → numbers, row by row.
 *  @param raw the first row's filter byte. @param samples of a row. @param out u16.
 */
export function joinBytes(raw: usize, samples: i32, rows: i32, out: usize): void {
  for (let y = 0; y < rows; y++) {
    let at = raw + <usize>(y * (2 * samples + 1)) + 1;
    let x = 0;
    for (; x + 8 <= samples; x += 8) {
      const pairs = v128.load(at);
      v128.store(out, v128.or(i16x8.shl(pairs, 8), i16x8.shr_u(pairs, 8)));
      at += 16;
      out += 16;
    }
    for (; x < samples; x++) {
      store<u16>(out, (<u16>load<u8>(at) << 8) | <u16>load<u8>(at, 1));
      at += 2;
      out += 2;
    }
  }
}

/** Levels of 16 bits → °C: gain · level + offset, rounded once.
 *  @param levels u16. @param skip level without a reading, −1 for none. @param out f32.
 *  @param counts i32: how many readings stand at level 0, and how many at the largest.
 */
export function scaleLevels(
  levels: usize,
  n: i32,
  gain: f64,
  offset: f64,
  skip: i32,
  maxLevel: i32,
  out: usize,
  counts: usize,
): void {
  const by = f64x2.splat(gain);
  const plus = f64x2.splat(offset);
  const most = i16x8.splat(<i16>maxLevel);
  let low = 0;
  let high = 0;
  let i = 0;
  if (skip < 0) {
    for (; i + 8 <= n; i += 8) {
      const eight = v128.load(levels);
      low += popcnt(i16x8.bitmask(i16x8.eq(eight, i16x8.splat(0))));
      high += popcnt(i16x8.bitmask(i16x8.eq(eight, most)));
      scaleFour(i32x4.extend_low_i16x8_u(eight), by, plus, out);
      scaleFour(i32x4.extend_high_i16x8_u(eight), by, plus, out + 16);
      levels += 16;
      out += 32;
    }
  }
  for (; i < n; i++) {
    const level = <i32>load<u16>(levels);
    levels += 2;
    if (level == skip) store<f32>(out, NaN);
    else {
      if (level == 0) low++;
      else if (level == maxLevel) high++;
      store<f32>(out, <f32>(gain * <f64>level + offset));
    }
    out += 4;
  }
  store<i32>(counts, low);
  store<i32>(counts, high, 4);
}

@inline
function scaleFour(levels: v128, by: v128, plus: v128, out: usize): void {
  const first = f64x2.add(f64x2.mul(by, f64x2.convert_low_i32x4_u(levels)), plus);
  const upper = i8x16.shuffle(levels, levels, 8, 9, 10, 11, 12, 13, 14, 15, 8, 9, 10, 11, 12, 13, 14, 15);
  const second = f64x2.add(f64x2.mul(by, f64x2.convert_low_i32x4_u(upper)), plus);
  const low = f32x4.demote_f64x2_zero(first);
  const high = f32x4.demote_f64x2_zero(second);
  v128.store(out, i8x16.shuffle(low, high, 0, 1, 2, 3, 4, 5, 6, 7, 16, 17, 18, 19, 20, 21, 22, 23));
}
