// kernels: many numbers, some of them NaN → whether all lie in a range, the largest, where one stands. As in check-frame.ts and
// flat-top.ts.

/** Tell whether all numbers lie from `low` to `high`; NaN does not. @param values f32. */
export function allBetween(values: usize, n: i32, low: f32, high: f32): bool {
  const least = f32x4.splat(low);
  const most = f32x4.splat(high);
  let inside = i32x4.splat(-1);
  let i = 0;
  for (; i + 4 <= n; i += 4, values += 16) {
    const four = v128.load(values);
    inside = v128.and(inside, v128.and(f32x4.ge(four, least), f32x4.le(four, most)));
  }
  if (!i32x4.all_true(inside)) return false;
  for (; i < n; i++, values += 4) {
    const value = load<f32>(values);
    if (!(value >= low && value <= high)) return false;
  }
  return true;
}

/** The largest number, −∞ if there is none; NaN does not count. @param values f32. */
export function largest(values: usize, n: i32): f32 {
  let tops = f32x4.splat(-Infinity);
  let i = 0;
  // Of two numbers the second counts if it is larger, which NaN is not.
  for (; i + 4 <= n; i += 4, values += 16) tops = f32x4.pmax(tops, v128.load(values));
  let top = f32x4.extract_lane(tops, 0);
  top = max(top, f32x4.extract_lane(tops, 1));
  top = max(top, f32x4.extract_lane(tops, 2));
  top = max(top, f32x4.extract_lane(tops, 3));
  for (; i < n; i++, values += 4) if (load<f32>(values) > top) top = load<f32>(values);
  return top;
}

/** List the places of a mask that are 1. @param mask u8. @param out i32, room for all. @returns how many there are. */
export function markedPlaces(mask: usize, n: i32, out: usize): i32 {
  const from = out;
  const mark = i8x16.splat(1);
  let i = 0;
  for (; i + 16 <= n; i += 16) {
    let marked = i8x16.bitmask(i8x16.eq(v128.load(mask + <usize>i), mark));
    for (; marked != 0; marked &= marked - 1, out += 4) store<i32>(out, i + ctz(marked));
  }
  for (; i < n; i++) {
    if (load<u8>(mask + <usize>i) != 1) continue;
    store<i32>(out, i);
    out += 4;
  }
  return <i32>((out - from) >> 2);
}

/** List the places of a mask that are not 0. @param mask u8. @param out i32, room for all. @returns how many there are. */
export function placesNotZero(mask: usize, n: i32, out: usize): i32 {
  const from = out;
  let i = 0;
  for (; i + 16 <= n; i += 16) {
    const lanes = v128.load(mask + <usize>i);
    if (!v128.any_true(lanes)) continue;
    let marked = i8x16.bitmask(i8x16.ne(lanes, i8x16.splat(0)));
    for (; marked != 0; marked &= marked - 1, out += 4) store<i32>(out, i + ctz(marked));
  }
  for (; i < n; i++) {
    if (load<u8>(mask + <usize>i) == 0) continue;
    store<i32>(out, i);
    out += 4;
  }
  return <i32>((out - from) >> 2);
}

/** List the numbers that are equal to one. @param values f32. @param out i32, room for all. @returns how many there are. */
export function placesOf(values: usize, n: i32, wanted: f32, out: usize): i32 {
  const from = out;
  const four = f32x4.splat(wanted);
  let i = 0;
  for (; i + 4 <= n; i += 4, values += 16) {
    let equal = i32x4.bitmask(f32x4.eq(v128.load(values), four));
    for (; equal != 0; equal &= equal - 1, out += 4) store<i32>(out, i + ctz(equal));
  }
  for (; i < n; i++, values += 4) {
    if (load<f32>(values) != wanted) continue;
    store<i32>(out, i);
    out += 4;
  }
  return <i32>((out - from) >> 2);
}
