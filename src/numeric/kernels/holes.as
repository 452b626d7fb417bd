// kernels: picture → which of its pixels have readings, and the same without holes. As in warp.ts and bridge-holes.ts.

/** Numbers as doubles. @param from f32. @param to f64. */
export function promote(from: usize, n: i32, to: usize): void {
  const end = from + (<usize>n << 2);
  for (; from + 16 <= end; from += 16) {
    v128.store(to, f64x2.promote_low_f32x4(v128.load64_zero(from)));
    v128.store(to, f64x2.promote_low_f32x4(v128.load64_zero(from, 8)), 16);
    to += 32;
  }
  for (; from < end; from += 4) {
    store<f64>(to, <f64>load<f32>(from));
    to += 8;
  }
}

/** Mark pixels that have a reading. @param data f32. @param known u8, 1 = a reading. */
export function markKnown(data: usize, n: i32, known: usize): void {
  for (let i: usize = 0; i < <usize>n; i++) {
    const value = load<f32>(data + (i << 2));
    store<u8>(known + i, value == value ? 1 : 0);
  }
}

/** How many numbers are none. @param data f32. */
export function countMissing(data: usize, n: i32): i32 {
  const end = data + (<usize>n << 2);
  let counts = i32x4.splat(0);
  for (; data + 16 <= end; data += 16) {
    const four = v128.load(data);
    counts = i32x4.sub(counts, f32x4.ne(four, four));
  }
  let count = i32x4.extract_lane(counts, 0) + i32x4.extract_lane(counts, 1) + i32x4.extract_lane(counts, 2) + i32x4.extract_lane(counts, 3);
  for (; data < end; data += 4) {
    const value = load<f32>(data);
    if (value != value) count++;
  }
  return count;
}

/** Cross holes by straight lines along their rows; a row without any reading repeats the one above, else the first with one.
 *  @param values f64, width·height; in place; all 0 if there is no reading at all.
 */
export function bridgeHoles(values: usize, width: i32, height: i32): void {
  const row8 = <usize>width << 3;
  let firstFull = -1;
  for (let y = 0; y < height; y++) {
    const row = values + <usize>y * row8;
    if (bridgeRow(row, width)) {
      if (firstFull < 0) firstFull = y;
    } else if (firstFull >= 0) memory.copy(row, row - row8, row8);
  }
  if (firstFull < 0) {
    memory.fill(values, 0, <usize>height * row8);
    return;
  }
  for (let y = 0; y < firstFull; y++) memory.copy(values + <usize>y * row8, values + <usize>firstFull * row8, row8);
}

/** False if the row has no reading. */
function bridgeRow(row: usize, width: i32): bool {
  let previous = -1;
  for (let x = 0; x < width; x++) {
    const value = load<f64>(row + (<usize>x << 3));
    if (value != value) continue;
    if (previous < 0) fillLine(row, 0, x, value);
    else if (x > previous + 1) {
      const before = load<f64>(row + (<usize>previous << 3));
      for (let i = previous + 1; i < x; i++) {
        store<f64>(row + (<usize>i << 3), before + ((value - before) * <f64>(i - previous)) / <f64>(x - previous));
      }
    }
    previous = x;
  }
  if (previous < 0) return false;
  fillLine(row, previous + 1, width, load<f64>(row + (<usize>previous << 3)));
  return true;
}

function fillLine(row: usize, from: i32, to: i32, value: f64): void {
  for (let x = from; x < to; x++) store<f64>(row + (<usize>x << 3), value);
}
