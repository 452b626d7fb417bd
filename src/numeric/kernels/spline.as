// kernels: picture → the coefficients of its cubic B-spline, in place: each line causally, then anticausally. As in
// spline-coefficients.ts.

const GAIN: f64 = 6;
/** Beyond so many pixels nothing of a value is left in double precision. */
const FAR = 30;

/** The first value of a line once filtered causally. @param apart how far the values of the line lie apart, bytes. */
@inline
function startOf(c: usize, apart: usize, length: i32, pole: f64, whole: f64, atEnd: f64, atLast: f64): f64 {
  let forward = pole;
  let backward = atEnd;
  let sum = load<f64>(c) + atLast * load<f64>(c + <usize>(length - 1) * apart);
  for (let i = 1; i < min(length - 1, FAR); i++) {
    sum += (forward + backward) * load<f64>(c + <usize>i * apart);
    forward *= pole;
    backward /= pole;
  }
  return GAIN * sum * whole;
}

/** Filter every row, four at a time: what a row waits for is its own last value.
 *  @param c f64, width·height. @param pole of the inverse of the sampled spline. @param whole 1 ÷ (1 − pole^period), the
 *  period of the mirrored row; @param atEnd pole^(period − 1); @param atLast pole^(width − 1).
 */
export function filterRows(
  c: usize,
  width: i32,
  height: i32,
  pole: f64,
  whole: f64,
  atEnd: f64,
  atLast: f64,
): void {
  const row8 = <usize>width << 3;
  let y = 0;
  for (; y + 4 <= height; y += 4) filterFour(c + <usize>y * row8, width, pole, whole, atEnd, atLast);
  const end = pole / (pole * pole - 1);
  for (; y < height; y++) {
    const row = c + <usize>y * row8;
    let at = row;
    let value = startOf(row, 8, width, pole, whole, atEnd, atLast);
    store<f64>(at, value);
    for (let i = 1; i < width; i++) {
      at += 8;
      value = GAIN * load<f64>(at) + pole * value;
      store<f64>(at, value);
    }
    value = end * (value + pole * load<f64>(at - 8));
    store<f64>(at, value);
    for (let i = width - 2; i >= 0; i--) {
      at -= 8;
      value = pole * (value - load<f64>(at));
      store<f64>(at, value);
    }
  }
}

function filterFour(row: usize, width: i32, pole: f64, whole: f64, atEnd: f64, atLast: f64): void {
  const row8 = <usize>width << 3;
  const second = row + row8;
  const third = second + row8;
  const fourth = third + row8;
  let a = startOf(row, 8, width, pole, whole, atEnd, atLast);
  let b = startOf(second, 8, width, pole, whole, atEnd, atLast);
  let c = startOf(third, 8, width, pole, whole, atEnd, atLast);
  let d = startOf(fourth, 8, width, pole, whole, atEnd, atLast);
  store<f64>(row, a);
  store<f64>(second, b);
  store<f64>(third, c);
  store<f64>(fourth, d);
  let at: usize = 8;
  for (; at < row8; at += 8) {
    a = GAIN * load<f64>(row + at) + pole * a;
    b = GAIN * load<f64>(second + at) + pole * b;
    c = GAIN * load<f64>(third + at) + pole * c;
    d = GAIN * load<f64>(fourth + at) + pole * d;
    store<f64>(row + at, a);
    store<f64>(second + at, b);
    store<f64>(third + at, c);
    store<f64>(fourth + at, d);
  }
  at -= 8;
  const end = pole / (pole * pole - 1);
  a = end * (a + pole * load<f64>(row + at - 8));
  b = end * (b + pole * load<f64>(second + at - 8));
  c = end * (c + pole * load<f64>(third + at - 8));
  d = end * (d + pole * load<f64>(fourth + at - 8));
  store<f64>(row + at, a);
  store<f64>(second + at, b);
  store<f64>(third + at, c);
  store<f64>(fourth + at, d);
  while (at > 0) {
    at -= 8;
    a = pole * (a - load<f64>(row + at));
    b = pole * (b - load<f64>(second + at));
    c = pole * (c - load<f64>(third + at));
    d = pole * (d - load<f64>(fourth + at));
    store<f64>(row + at, a);
    store<f64>(second + at, b);
    store<f64>(third + at, c);
    store<f64>(fourth + at, d);
  }
}

/** Filter every column; parameters as for `filterRows`, the line being a column. */
export function filterColumns(
  c: usize,
  width: i32,
  height: i32,
  pole: f64,
  whole: f64,
  atEnd: f64,
  atLast: f64,
): void {
  const row8 = <usize>width << 3;
  for (let lane: usize = 0; lane < row8; lane += 8) {
    store<f64>(c + lane, startOf(c + lane, row8, height, pole, whole, atEnd, atLast));
  }
  const last = c + <usize>(height - 1) * row8;
  for (let row = c + row8; row <= last; row += row8) mixLines(row, row - row8, row8, GAIN, pole);
  const end = pole / (pole * pole - 1);
  scaleSum(last, last - row8, row8, end, pole);
  for (let row = last; row > c; ) {
    row -= row8;
    scaleDifference(row, row + row8, row8, pole);
  }
}

/** to = a·to + b·from. */
function mixLines(to: usize, from: usize, bytes: usize, a: f64, b: f64): void {
  const end = to + bytes;
  for (; to + 16 <= end; to += 16) {
    v128.store(to, f64x2.add(f64x2.mul(f64x2.splat(a), v128.load(to)), f64x2.mul(f64x2.splat(b), v128.load(from))));
    from += 16;
  }
  if (to < end) store<f64>(to, a * load<f64>(to) + b * load<f64>(from));
}

/** to = by·(to + pole·from). */
function scaleSum(to: usize, from: usize, bytes: usize, by: f64, pole: f64): void {
  const end = to + bytes;
  for (; to < end; to += 8) {
    store<f64>(to, by * (load<f64>(to) + pole * load<f64>(from)));
    from += 8;
  }
}

/** to = pole·(from − to). */
function scaleDifference(to: usize, from: usize, bytes: usize, pole: f64): void {
  const end = to + bytes;
  for (; to + 16 <= end; to += 16) {
    v128.store(to, f64x2.mul(f64x2.splat(pole), f64x2.sub(v128.load(from), v128.load(to))));
    from += 16;
  }
  if (to < end) store<f64>(to, pole * (load<f64>(from) - load<f64>(to)));
}
