// kernels: many numbers, some of them NaN → those near a rank, whether all lie in a range, the largest. As in many-numbers.ts,
// check-frame.ts and flat-top.ts.

/** Count what is not NaN. @param values f64, an even count of them. */
export function countNumbers(values: usize, n: i32): i32 {
  let missing = 0;
  for (let i = 0; i < n; i += 2, values += 16) {
    const pair = v128.load(values);
    missing += popcnt(i64x2.bitmask(f64x2.ne(pair, pair)));
  }
  return n - missing;
}

/** Gather the numbers from `low` to `high`, and count those below.
 *  @param values f64, an even count of them. @param out f64. @param below i32. @returns how many were gathered.
 */
export function gatherBetween(values: usize, n: i32, low: f64, high: f64, out: usize, below: usize): i32 {
  const least = f64x2.splat(low);
  const most = f64x2.splat(high);
  const from = out;
  let lower = 0;
  for (let i = 0; i < n; i += 2, values += 16) {
    const pair = v128.load(values);
    lower += popcnt(i64x2.bitmask(f64x2.lt(pair, least)));
    const inside = i64x2.bitmask(v128.and(f64x2.ge(pair, least), f64x2.le(pair, most)));
    if (inside == 0) continue;
    store<f64>(out, load<f64>(values));
    out += <usize>(inside & 1) << 3;
    store<f64>(out, load<f64>(values, 8));
    out += <usize>(inside & 2) << 2;
  }
  store<i32>(below, lower);
  return <i32>((out - from) >> 3);
}

/** Numbers → their distances from one. @param n even. */
export function distancesFrom(values: usize, n: i32, from: f64): void {
  const centre = f64x2.splat(from);
  for (let i = 0; i < n; i += 2, values += 16) {
    v128.store(values, f64x2.abs(f64x2.sub(v128.load(values), centre)));
  }
}

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
