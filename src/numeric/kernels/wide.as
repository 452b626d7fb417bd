// kernels: picture → the same smoothed by a wide Gaussian, computed on cells. The same sums, in the same order, as in
// wide-gaussian.ts; the sum and the weights of a cell lie side by side, in the two lanes of a vector.

/** Smooth a picture by a wide Gaussian, computed on cells.
 *  @param data f32. @param weights f32 per pixel, or 0: all alike.
 *  @param firstX @param firstY i32, the first of three cells for each pixel of a line; their weights at tapsX, tapsY, f64.
 *  @param w @param h cells. @param half f64, radius + 1.
 *  @param cells @param work scratch, 16 bytes a cell, w·h each. @param line scratch, 32·w bytes.
 *  @param out f32.
 */
export function smoothWide(
  data: usize,
  weights: usize,
  width: i32,
  height: i32,
  firstX: usize,
  tapsX: usize,
  firstY: usize,
  tapsY: usize,
  w: i32,
  h: i32,
  half: usize,
  radius: i32,
  cells: usize,
  work: usize,
  line: usize,
  out: usize,
): void {
  const row = <usize>w << 4;
  memory.fill(cells, 0, <usize>h * row);
  for (let y = 0; y < height; y += weights == 0 ? 2 : 1) {
    const start = <usize>(y * width) << 2;
    const shares = tapsY + <usize>(24 * y);
    const first = cells + <usize>load<i32>(firstY + (<usize>y << 2)) * row;
    if (weights != 0) {
      shareRow(data + start, weights + start, width, firstX, tapsX, line, row);
      addLine(line, row, shares, first);
      continue;
    }
    const two = y + 1 < height;
    shareTwo(data + start, two ? <usize>width << 2 : 0, width, firstX, tapsX, line, row);
    const next = two ? cells + <usize>load<i32>(firstY + (<usize>y << 2), 4) * row : 0;
    if (next == first) addTwoLines(line, row, shares, first);
    else {
      addLine(line, row, shares, first);
      if (two) addLine(line + row, row, shares + 24, next);
    }
  }
  for (let y = 0; y < h; y++) smoothAlong(cells + <usize>y * row, work + <usize>y * row, w, half, radius);
  for (let y = 0; y < h; y++) smoothDown(work, cells, row, y, h, half, radius);
  divideCells(cells, work, w * h);
  let y = 0;
  for (; y + 2 <= height; y += 2) {
    for (let k = 0; k < 2; k++) mixRows(work, w, firstY, tapsY, y + k, line + (<usize>k << 3));
    readRows(line, width, firstX, tapsX, out + (<usize>(y * width) << 2), 2);
  }
  if (y < height) {
    mixRows(work, w, firstY, tapsY, y, line);
    readRows(line, width, firstX, tapsX, out + (<usize>(y * width) << 2), 1);
  }
}

/** Share a row's pixels among its cells. The three cells around a pixel stay in registers until it is their neighbours' turn. */
function shareRow(data: usize, weights: usize, width: i32, first: usize, taps: usize, line: usize, row: usize): void {
  memory.fill(line, 0, row);
  let a = f64x2.splat(0);
  let b = a;
  let c = a;
  let cell = load<i32>(first);
  for (let x: usize = 0; x < <usize>width << 2; x += 4) {
    const value = <f64>load<f32>(data + x);
    // Neither a hole nor something endless counts.
    if (value * 0 != 0) continue;
    const weight = <f64>load<f32>(weights + x);
    if (weight == 0) continue;
    for (const own = load<i32>(first + x); cell < own; cell++) {
      v128.store(line + (<usize>cell << 4), a);
      a = b;
      b = c;
      c = f64x2.splat(0);
    }
    const pair = f64x2.replace_lane(f64x2.splat(1), 0, value);
    const tap = taps + 6 * x;
    a = f64x2.add(a, f64x2.mul(f64x2.splat(weight * load<f64>(tap)), pair));
    b = f64x2.add(b, f64x2.mul(f64x2.splat(weight * load<f64>(tap, 8)), pair));
    c = f64x2.add(c, f64x2.mul(f64x2.splat(weight * load<f64>(tap, 16)), pair));
  }
  const at = line + (<usize>cell << 4);
  v128.store(at, a);
  v128.store(at, b, 16);
  v128.store(at, c, 32);
}

/** The same for two rows at a time, where all pixels weigh 1: rows lie side by side in the lanes, what they hold and how much of it.
 *  @param below from a row to the next one; 0: there is none. @param line gets the cells of the one row, then those of the other.
 */
function shareTwo(data: usize, below: usize, width: i32, first: usize, taps: usize, line: usize, row: usize): void {
  let a = f64x2.splat(0);
  let b = a;
  let c = a;
  let inA = a;
  let inB = a;
  let inC = a;
  let cell = load<i32>(first);
  for (let x: usize = 0; x < <usize>width << 2; x += 4) {
    for (const own = load<i32>(first + x); cell < own; cell++) {
      storeCells(line + (<usize>cell << 4), row, a, inA);
      a = b;
      b = c;
      c = f64x2.splat(0);
      inA = inB;
      inB = inC;
      inC = f64x2.splat(0);
    }
    const at = data + x;
    let pair = f64x2.promote_low_f32x4(v128.load32_lane(at + below, v128.load32_zero(at), 1));
    const tap = taps + 6 * x;
    let left = v128.load64_splat(tap);
    let own = v128.load64_splat(tap, 8);
    let right = v128.load64_splat(tap, 16);
    // Neither a hole nor something endless counts.
    const known = f64x2.eq(f64x2.mul(pair, f64x2.splat(0)), f64x2.splat(0));
    if (!i64x2.all_true(known)) {
      pair = v128.and(pair, known);
      left = v128.and(left, known);
      own = v128.and(own, known);
      right = v128.and(right, known);
    }
    a = f64x2.add(a, f64x2.mul(left, pair));
    b = f64x2.add(b, f64x2.mul(own, pair));
    c = f64x2.add(c, f64x2.mul(right, pair));
    inA = f64x2.add(inA, left);
    inB = f64x2.add(inB, own);
    inC = f64x2.add(inC, right);
  }
  const last = line + (<usize>cell << 4);
  storeCells(last, row, a, inA);
  storeCells(last + 16, row, b, inB);
  storeCells(last + 32, row, c, inC);
}

/** A cell of two rows: its sum and its weight side by side. */
@inline
function storeCells(at: usize, row: usize, sums: v128, counts: v128): void {
  v128.store(at, v128.shuffle<i64>(sums, counts, 0, 2));
  v128.store(at + row, v128.shuffle<i64>(sums, counts, 1, 3));
}

/** Add two rows' cells to those of three rows. @param shares f64, three for each. */
function addTwoLines(from: usize, row: usize, shares: usize, to: usize): void {
  const a = v128.load64_splat(shares);
  const b = v128.load64_splat(shares, 8);
  const c = v128.load64_splat(shares, 16);
  const d = v128.load64_splat(shares, 24);
  const e = v128.load64_splat(shares, 32);
  const f = v128.load64_splat(shares, 40);
  for (const end = from + row; from < end; from += 16) {
    const cell = v128.load(from);
    const next = v128.load(from + row);
    v128.store(to, f64x2.add(f64x2.add(v128.load(to), f64x2.mul(a, cell)), f64x2.mul(d, next)));
    const second = to + row;
    v128.store(second, f64x2.add(f64x2.add(v128.load(second), f64x2.mul(b, cell)), f64x2.mul(e, next)));
    const third = second + row;
    v128.store(third, f64x2.add(f64x2.add(v128.load(third), f64x2.mul(c, cell)), f64x2.mul(f, next)));
    to += 16;
  }
}

/** Add a row's cells to those of three rows. @param shares f64, three. */
function addLine(from: usize, row: usize, shares: usize, to: usize): void {
  const a = v128.load64_splat(shares);
  const b = v128.load64_splat(shares, 8);
  const c = v128.load64_splat(shares, 16);
  for (const end = from + row; from < end; from += 16) {
    const cell = v128.load(from);
    v128.store(to, f64x2.add(v128.load(to), f64x2.mul(a, cell)));
    v128.store(to + row, f64x2.add(v128.load(to + row), f64x2.mul(b, cell)));
    v128.store(to + 2 * row, f64x2.add(v128.load(to + 2 * row), f64x2.mul(c, cell)));
    to += 16;
  }
}

/** One row convolved; nothing lies beyond its ends. */
function smoothAlong(from: usize, to: usize, w: i32, half: usize, radius: i32): void {
  const centre = v128.load64_splat(half);
  let k = 0;
  while (k < w) {
    const at = from + (<usize>k << 4);
    const place = to + (<usize>k << 4);
    if (k < radius || k + 4 + radius > w) {
      let sum = f64x2.mul(centre, v128.load(at));
      for (let j = 1; j <= radius; j++) {
        const weight = v128.load64_splat(half + (<usize>j << 3));
        if (k >= j) sum = f64x2.add(sum, f64x2.mul(weight, v128.load(at - (<usize>j << 4))));
        if (k + j < w) sum = f64x2.add(sum, f64x2.mul(weight, v128.load(at + (<usize>j << 4))));
      }
      v128.store(place, sum);
      k++;
      continue;
    }
    let a = f64x2.mul(centre, v128.load(at));
    let b = f64x2.mul(centre, v128.load(at, 16));
    let c = f64x2.mul(centre, v128.load(at, 32));
    let d = f64x2.mul(centre, v128.load(at, 48));
    for (let j = 1; j <= radius; j++) {
      const weight = v128.load64_splat(half + (<usize>j << 3));
      const left = at - (<usize>j << 4);
      const right = at + (<usize>j << 4);
      a = f64x2.add(f64x2.add(a, f64x2.mul(weight, v128.load(left))), f64x2.mul(weight, v128.load(right)));
      b = f64x2.add(f64x2.add(b, f64x2.mul(weight, v128.load(left, 16))), f64x2.mul(weight, v128.load(right, 16)));
      c = f64x2.add(f64x2.add(c, f64x2.mul(weight, v128.load(left, 32))), f64x2.mul(weight, v128.load(right, 32)));
      d = f64x2.add(f64x2.add(d, f64x2.mul(weight, v128.load(left, 48))), f64x2.mul(weight, v128.load(right, 48)));
    }
    v128.store(place, a);
    v128.store(place, b, 16);
    v128.store(place, c, 32);
    v128.store(place, d, 48);
    k += 4;
  }
}

/** One row of all columns convolved. */
function smoothDown(from: usize, to: usize, row: usize, y: i32, h: i32, half: usize, radius: i32): void {
  const centre = v128.load64_splat(half);
  const start = from + <usize>y * row;
  const place = to + <usize>y * row;
  let x: usize = 0;
  for (; x + 32 <= row; x += 32) {
    const at = start + x;
    let a = f64x2.mul(centre, v128.load(at));
    let b = f64x2.mul(centre, v128.load(at, 16));
    for (let j = 1; j <= radius; j++) {
      const weight = v128.load64_splat(half + (<usize>j << 3));
      if (y >= j) {
        const above = at - <usize>j * row;
        a = f64x2.add(a, f64x2.mul(weight, v128.load(above)));
        b = f64x2.add(b, f64x2.mul(weight, v128.load(above, 16)));
      }
      if (y + j < h) {
        const below = at + <usize>j * row;
        a = f64x2.add(a, f64x2.mul(weight, v128.load(below)));
        b = f64x2.add(b, f64x2.mul(weight, v128.load(below, 16)));
      }
    }
    v128.store(place + x, a);
    v128.store(place + x, b, 16);
  }
  if (x < row) {
    const at = start + x;
    let sum = f64x2.mul(centre, v128.load(at));
    for (let j = 1; j <= radius; j++) {
      const weight = v128.load64_splat(half + (<usize>j << 3));
      if (y >= j) sum = f64x2.add(sum, f64x2.mul(weight, v128.load(at - <usize>j * row)));
      if (y + j < h) sum = f64x2.add(sum, f64x2.mul(weight, v128.load(at + <usize>j * row)));
    }
    v128.store(place + x, sum);
  }
}

/** Sums ÷ weights; NaN below a billionth of a pixel's weight: no reading is near. @param to f64. */
function divideCells(from: usize, to: usize, n: i32): void {
  for (const end = from + (<usize>n << 4); from < end; from += 16) {
    const count = load<f64>(from, 8);
    store<f64>(to, count > 1e-9 ? load<f64>(from) / count : NaN);
    to += 8;
  }
}

/** The cells that a row of pixels reads, as one line, every other number of it. */
function mixRows(cells: usize, w: i32, firstY: usize, tapsY: usize, y: i32, out: usize): void {
  const row8 = <usize>w << 3;
  const a = load<f64>(tapsY + <usize>(24 * y));
  const b = load<f64>(tapsY + <usize>(24 * y), 8);
  const c = load<f64>(tapsY + <usize>(24 * y), 16);
  let at = cells + <usize>load<i32>(firstY + (<usize>y << 2)) * row8;
  for (const end = at + row8; at < end; at += 8) {
    store<f64>(out, a * load<f64>(at) + b * load<f64>(at + row8) + c * load<f64>(at + 2 * row8));
    out += 16;
  }
}

/** Two rows of pixels (or the one of them) from the lines of their cells, which lie side by side. */
function readRows(line: usize, width: i32, first: usize, taps: usize, out: usize, rows: i32): void {
  const below = out + (<usize>width << 2);
  for (let x: usize = 0; x < <usize>width << 2; x += 4) {
    const at = line + (<usize>load<i32>(first + x) << 4);
    const tap = taps + 6 * x;
    const two = f64x2.add(
      f64x2.mul(v128.load64_splat(tap), v128.load(at)),
      f64x2.mul(v128.load64_splat(tap, 8), v128.load(at, 16)),
    );
    const sum = f32x4.demote_f64x2_zero(f64x2.add(two, f64x2.mul(v128.load64_splat(tap, 16), v128.load(at, 32))));
    v128.store32_lane(out + x, sum, 0);
    if (rows > 1) v128.store32_lane(below + x, sum, 1);
  }
}
