// kernels: places between pixels that all have readings → values by cubic convolution. As in warp.ts, to the last bit.

/** A stretch of a row, by twos. A loop of its own, whose numbers all have room in the processor.
 *  @param at the first of the sixteen numbers around the first place, f64. @param row8 bytes from row to row of them.
 *  @param start @param end pixels of the result, an even number. @param by b·y. @param ey e·y. @param column @param row the pixel
 *  before the first place. @param out f32, its row.
 */
export function cubicStretch(
  at: usize,
  row8: usize,
  start: i32,
  end: i32,
  by: f64,
  ey: f64,
  column: f64,
  row: f64,
  a: f64,
  c: f64,
  d: f64,
  f: f64,
  out: usize,
): void {
  let x = f64x2.add(f64x2.splat(<f64>start), f64x2(0, 1));
  let u = f64x2.add(f64x2.splat(column), f64x2(0, 1));
  const last = out + (<usize>end << 2);
  for (let to = out + (<usize>start << 2); to < last; to += 8, at += 16) {
    const t = f64x2.sub(placeOf(x, f64x2.splat(a), f64x2.splat(by), f64x2.splat(c)), u);
    const v = f64x2.sub(placeOf(x, f64x2.splat(d), f64x2.splat(ey), f64x2.splat(f)), f64x2.splat(row));
    v128.store64_lane(to, f32x4.demote_f64x2_zero(cubicPair(at, row8, t, v)), 0);
    x = f64x2.add(x, f64x2.splat(2));
    u = f64x2.add(u, f64x2.splat(2));
  }
}

@inline
export function placeOf(x: v128, a: v128, b: v128, c: v128): v128 {
  return f64x2.add(f64x2.add(f64x2.mul(a, x), b), c);
}

@inline
export function cubicPair(at: usize, row: usize, t: v128, u: v128): v128 {
  const x0 = keys0(t);
  const x1 = keys1(t);
  const x2 = keys2(t);
  const x3 = keys3(t);
  let sum = f64x2.add(f64x2.splat(0), f64x2.mul(keys0(u), lineOf(at, x0, x1, x2, x3)));
  sum = f64x2.add(sum, f64x2.mul(keys1(u), lineOf(at + row, x0, x1, x2, x3)));
  sum = f64x2.add(sum, f64x2.mul(keys2(u), lineOf(at + 2 * row, x0, x1, x2, x3)));
  return f64x2.add(sum, f64x2.mul(keys3(u), lineOf(at + 3 * row, x0, x1, x2, x3)));
}

@inline
export function lineOf(at: usize, x0: v128, x1: v128, x2: v128, x3: v128): v128 {
  const half = f64x2.add(f64x2.mul(x0, v128.load(at)), f64x2.mul(x1, v128.load(at, 8)));
  return f64x2.add(f64x2.add(half, f64x2.mul(x2, v128.load(at, 16))), f64x2.mul(x3, v128.load(at, 24)));
}

@inline
function keys0(t: v128): v128 {
  const inner = f64x2.mul(t, f64x2.sub(f64x2.splat(1), f64x2.mul(f64x2.splat(0.5), t)));
  return f64x2.mul(t, f64x2.add(f64x2.splat(-0.5), inner));
}

@inline
function keys1(t: v128): v128 {
  const inner = f64x2.add(f64x2.splat(-2.5), f64x2.mul(f64x2.splat(1.5), t));
  return f64x2.add(f64x2.splat(1), f64x2.mul(f64x2.mul(t, t), inner));
}

@inline
function keys2(t: v128): v128 {
  const inner = f64x2.mul(t, f64x2.sub(f64x2.splat(2), f64x2.mul(f64x2.splat(1.5), t)));
  return f64x2.mul(t, f64x2.add(f64x2.splat(0.5), inner));
}

@inline
function keys3(t: v128): v128 {
  const inner = f64x2.add(f64x2.splat(-0.5), f64x2.mul(f64x2.splat(0.5), t));
  return f64x2.mul(f64x2.mul(t, t), inner);
}
