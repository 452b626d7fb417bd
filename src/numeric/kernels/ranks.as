// kernels: many numbers, some of them NaN → the one of a rank, and the next to it. What median.ts finds by select-rank.ts and
// many-numbers.ts. The numbers are of single or double precision, as they are or as their distances from one.

/** Which numbers: how they are stored, and what is taken of them. */
const SINGLES = 0;
const SINGLE_DISTANCES = 1;
const DOUBLES = 2;

/** Up to so many are looked through as a whole. */
const FEW = 600;
/** A rank in the sample is off by at most √sample ÷ 2 (one σ): this many σ, and a few ranks for the ends. */
const SIGMAS: f64 = 3.5;
const LEAST_RANKS: f64 = 4;

/** Count what is not NaN. @param kind 0 or 1: f32; 2 or 3: f64. */
export function countNumbers(values: usize, n: i32, kind: i32): i32 {
  let missing = 0;
  let i = 0;
  if (kind >= DOUBLES) {
    for (; i + 2 <= n; i += 2, values += 16) {
      const pair = v128.load(values);
      missing += popcnt(i64x2.bitmask(f64x2.ne(pair, pair)));
    }
  } else {
    let odd = i32x4.splat(0);
    for (; i + 4 <= n; i += 4, values += 16) {
      const four = v128.load(values);
      odd = i32x4.add(odd, f32x4.ne(four, four));
    }
    missing -= i32x4.extract_lane(odd, 0) + i32x4.extract_lane(odd, 1);
    missing -= i32x4.extract_lane(odd, 2) + i32x4.extract_lane(odd, 3);
  }
  for (; i < n; i++, values += kind >= DOUBLES ? 8 : 4) {
    const value = kind >= DOUBLES ? load<f64>(values) : <f64>load<f32>(values);
    if (value != value) missing++;
  }
  return n - missing;
}

/** Find the number of a rank, counted from 0, and its neighbour in rank.
 *  @param kind 0 f32, 1 their distances from `centre`, 2 f64, 3 their distances. @param count how many are not NaN.
 *  @param next 1 for the next larger one, −1 for the next smaller. @param work scratch, f64, n + 48 of them.
 *  @param out f64: the number and its neighbour, which is NaN where there is none.
 */
export function findRank(
  values: usize,
  n: i32,
  kind: i32,
  centre: f64,
  count: i32,
  rank: i32,
  next: i32,
  work: usize,
  out: usize,
): void {
  let low: f64 = -Infinity;
  let high: f64 = Infinity;
  if (n > FEW) {
    const size = takeSample(values, n, kind, centre, work);
    const share = <f64>rank / <f64>count;
    const reach = SIGMAS * Math.sqrt(<f64>size * share * (1 - share)) + LEAST_RANKS;
    const first = <i32>Math.floor(share * <f64>size - reach);
    const last = <i32>Math.ceil(share * <f64>size + reach);
    if (first >= 0 && first < size) {
      select(work, 0, size - 1, first);
      low = number(work, first);
    }
    if (last < size && size > 0) {
      select(work, first >= 0 ? first : 0, size - 1, last);
      high = number(work, last);
    }
  }
  let kept = gather(values, n, kind, centre, low, high, work);
  let below = <i32>number(work, kept);
  if (!((below == 0 || below < rank) && (below + kept == count || rank + 1 < below + kept))) {
    // The sample misleads.
    low = -Infinity;
    high = Infinity;
    kept = gather(values, n, kind, centre, low, high, work);
    below = 0;
  }
  const at = rank - below;
  if (at >= kept) {
    // Distances of infinite numbers from an infinite one are none.
    store<f64>(out, NaN);
    store<f64>(out, NaN, 8);
    return;
  }
  // Between equal limits there are equal numbers.
  if (low != high) select(work, 0, kept - 1, at);
  store<f64>(out, number(work, at));
  store<f64>(out, next > 0 ? least(work, at + 1, kept) : most(work, at), 8);
}

@inline
export function number(work: usize, index: i32): f64 {
  return load<f64>(work + (<usize>index << 3));
}

@inline
export function put(work: usize, index: i32, value: f64): void {
  store<f64>(work + (<usize>index << 3), value);
}

function least(work: usize, from: i32, to: i32): f64 {
  if (from >= to) return NaN;
  let value = number(work, from);
  for (let i = from + 1; i < to; i++) value = number(work, i) < value ? number(work, i) : value;
  return value;
}

export function most(work: usize, to: i32): f64 {
  if (to <= 0) return NaN;
  let value = number(work, 0);
  for (let i = 1; i < to; i++) value = number(work, i) > value ? number(work, i) : value;
  return value;
}

/** Every so many of the numbers. @returns how many there are. */
function takeSample(values: usize, n: i32, kind: i32, centre: f64, work: usize): i32 {
  // About n to the power of two thirds: then the sample takes as long as what lies near the rank.
  let size = 128;
  while (<f64>size * <f64>size * <f64>size < <f64>n * <f64>n) size <<= 1;
  // Odd, so that it does not fall into step with the rows of a picture.
  const stride = max(1, n / size) | 1;
  let count = 0;
  for (let i = 0; i < n; i += stride) {
    let value = kind >= DOUBLES ? load<f64>(values + (<usize>i << 3)) : <f64>load<f32>(values + (<usize>i << 2));
    if ((kind & SINGLE_DISTANCES) != 0) value = Math.abs(value - centre);
    put(work, count, value);
    count += value == value ? 1 : 0;
  }
  return count;
}

/** Gather the numbers from `low` to `high`; how many are lower stands behind them. @returns how many were gathered. */
function gather(values: usize, n: i32, kind: i32, centre: f64, low: f64, high: f64, work: usize): i32 {
  return kind >= DOUBLES
    ? gatherDoubles(values, n, kind, centre, low, high, work)
    : gatherSingles(values, n, kind, centre, low, high, work);
}

function gatherDoubles(values: usize, n: i32, kind: i32, centre: f64, low: f64, high: f64, work: usize): i32 {
  const middle = f64x2.splat(centre);
  const bottom = f64x2.splat(low);
  const top = f64x2.splat(high);
  const from = work;
  let lower = i64x2.splat(0);
  let i = 0;
  for (; i + 2 <= n; i += 2, values += 16) {
    let pair = v128.load(values);
    if (kind != DOUBLES) pair = f64x2.abs(f64x2.sub(pair, middle));
    lower = i64x2.sub(lower, f64x2.lt(pair, bottom));
    const inside = v128.and(f64x2.ge(pair, bottom), f64x2.le(pair, top));
    if (v128.any_true(inside)) work = keepTwo(pair, inside, work);
  }
  let below = <i32>(i64x2.extract_lane(lower, 0) + i64x2.extract_lane(lower, 1));
  if (i < n) {
    let value = load<f64>(values);
    if (kind != DOUBLES) value = Math.abs(value - centre);
    below += value < low ? 1 : 0;
    store<f64>(work, value);
    work += value >= low && value <= high ? 8 : 0;
  }
  store<f64>(work, <f64>below);
  return <i32>((work - from) >> 3);
}

/** For each set of four lanes the bytes that bring them to the front. @param table 256 bytes, written. */
function writeFronts(table: usize): void {
  for (let set = 0; set < 16; set++) {
    let to = table + <usize>(set << 4);
    for (let lane = 0; lane < 4; lane++) {
      store<u32>(to, 0x03020100 + 0x04040404 * lane);
      to += <usize>((set >> lane) & 1) << 2;
    }
  }
}

/** In single precision those that are certain to be lower are counted, and those that may be between the limits picked out, four
 *  at a time; what is left is looked at in double precision.
 */
function gatherSingles(values: usize, n: i32, kind: i32, centre: f64, low: f64, high: f64, work: usize): i32 {
  const distances = kind == SINGLE_DISTANCES;
  // Numbers as they are can be compared with the limits, which are two of them, as they are.
  const error = distances ? (Math.abs(centre) + high) * 1e-6 : 0;
  const middle = f32x4.splat(distances ? <f32>centre : 0);
  const bottom = f32x4.splat(<f32>(low - error));
  const top = f32x4.splat(<f32>(high + error));
  // Behind what is written when they are read.
  const picked = work + (<usize>n << 2) + 32;
  const fronts = picked + (<usize>n << 2) + 32;
  writeFronts(fronts);
  let to = picked;
  let lower = i32x4.splat(0);
  let i = 0;
  for (; i + 4 <= n; i += 4, values += 16) {
    const four = v128.load(values);
    const size = distances ? f32x4.abs(f32x4.sub(four, middle)) : four;
    lower = i32x4.sub(lower, f32x4.lt(size, bottom));
    const inside = i32x4.bitmask(v128.and(f32x4.ge(size, bottom), f32x4.le(size, top)));
    v128.store(to, v128.swizzle(four, v128.load(fronts + (<usize>inside << 4))));
    to += <usize>popcnt(inside) << 2;
  }
  for (; i < n; i++, values += 4, to += 4) store<f32>(to, load<f32>(values));
  let below = i32x4.extract_lane(lower, 0) + i32x4.extract_lane(lower, 1);
  below += i32x4.extract_lane(lower, 2) + i32x4.extract_lane(lower, 3);
  const from = work;
  for (let at = picked; at < to; at += 4) {
    let value = <f64>load<f32>(at);
    if (distances) value = Math.abs(value - centre);
    below += value < low ? 1 : 0;
    store<f64>(work, value);
    work += value >= low && value <= high ? 8 : 0;
  }
  store<f64>(work, <f64>below);
  return <i32>((work - from) >> 3);
}

@inline
function keepTwo(pair: v128, inside: v128, work: usize): usize {
  const bits = i64x2.bitmask(inside);
  store<f64>(work, f64x2.extract_lane(pair, 0));
  work += <usize>(bits & 1) << 3;
  store<f64>(work, f64x2.extract_lane(pair, 1));
  return work + (<usize>(bits & 2) << 2);
}

/** Bring the number of a rank to its place: smaller ones before it, larger ones after it. */
export function select(work: usize, from: i32, to: i32, rank: i32): void {
  let left = from;
  let right = to;
  while (right > left) {
    if (right - left > FEW) {
      const n = <f64>(right - left + 1);
      const i = <f64>(rank - left + 1);
      // A first guess from a sample, as in select-rank.ts, but without logarithms: half of n to the power of three quarters in
      // place of two thirds, and 1.5 in place of √(ln n) ÷ 2, which it is at 8000 numbers.
      const sample = (0.5 * n) / Math.sqrt(Math.sqrt(n));
      const spread = 1.5 * Math.sqrt((sample * (n - sample)) / n) * (i < n / 2 ? -1 : 1);
      const low = <i32>Math.floor(<f64>rank - (i * sample) / n + spread);
      const high = <i32>Math.floor(<f64>rank + ((n - i) * sample) / n + spread);
      select(work, max(left, low), min(right, high), rank);
    }
    // Neither loop has a branch that would be guessed wrong every other time.
    const pivot = number(work, rank);
    let less = left;
    for (let k = left; k <= right; k++) {
      const value = number(work, k);
      put(work, k, number(work, less));
      put(work, less, value);
      less += value < pivot ? 1 : 0;
    }
    if (rank < less) {
      right = less - 1;
      continue;
    }
    let more = less;
    for (let k = less; k <= right; k++) {
      const value = number(work, k);
      put(work, k, number(work, more));
      put(work, more, value);
      more += value <= pivot ? 1 : 0;
    }
    if (rank < more) return;
    left = more;
  }
}
