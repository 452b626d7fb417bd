// kernels: picture → the same smoothed by a Gaussian. The same sums, in the same order, as in gaussian-filter.ts and
// convolve-lines.ts.

/** What becomes of holes in `smooth`. */
const NO_HOLES = 0;
const FEW_HOLES = 1;
const FILL_HOLES = 3;

/** Rows done at a time: what lies between the two passes stays in the cache. */
const BLOCK = 32;

/** Smooth a picture by a separable kernel, cut at the border and at holes and scaled to sum 1.
 *  @param data f32. @param half f64, radius + 1, the kernel from its centre outwards.
 *  @param inX @param inY f64, share of the kernel inside a line.
 *  @param line scratch, f64, width + 2·radius. @param values scratch, f64, width·(33 + 2·radius).
 *  @param weights the same, where there are holes. @param sums scratch, f64, 2·width. @param out f32.
 *  @param way 0 no holes, 1 few, 2 many, 3 many and filled from around.
 */
export function smooth(
  data: usize,
  width: i32,
  height: i32,
  half: usize,
  radius: i32,
  inX: usize,
  inY: usize,
  line: usize,
  values: usize,
  weights: usize,
  sums: usize,
  out: usize,
  way: i32,
): void {
  const row8 = <usize>width << 3;
  const row4 = <usize>width << 2;
  const inside = line + (<usize>radius << 3);
  const held = <usize>(BLOCK + 2 * radius) * row8;
  const shared = <usize>(2 * radius) * row8;
  // A row of zeros stands for all rows outside.
  const zeros = values + held;
  memory.fill(zeros, 0, row8);
  memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
  if (way == FEW_HOLES) memory.fill(weights, 0, held);
  // Rows convolved so far, and rows whose holes are taken into account.
  let next = 0;
  let known = 0;
  for (let top = 0; top < height; top += BLOCK) {
    // The first row that is held is `radius` above the block.
    const first = top - radius;
    if (top > 0) memory.copy(values, values + <usize>BLOCK * row8, shared);
    const ready = min(height, top + BLOCK + radius);
    for (let y = next; y < ready; y++) {
      copyRow(data + <usize>y * row4, width, inside);
      convolveLine(line, width, half, radius, values + <usize>(y - first) * row8);
    }
    if (way == FEW_HOLES) {
      if (top > 0) {
        memory.copy(weights, weights + <usize>BLOCK * row8, shared);
        memory.fill(weights + shared, 0, held - shared);
      }
      memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
      for (; known < ready; known++) addMissing(data, width, height, half, radius, line, sums, weights, known, top);
      memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
    } else if (way > FEW_HOLES) {
      if (top > 0) memory.copy(weights, weights + <usize>BLOCK * row8, shared);
      for (let y = next; y < ready; y++) {
        maskRow(data + <usize>y * row4, width, inside);
        convolveLine(line, width, half, radius, weights + <usize>(y - first) * row8);
      }
    }
    next = ready;
    for (let y = top; y < min(height, top + BLOCK); y++) {
      const to = out + <usize>y * row4;
      const from = data + <usize>y * row4;
      const share = load<f64>(inY + (<usize>y << 3));
      const at = <usize>(y - first) * row8;
      sumColumns(values + at, zeros, width, height, y, half, radius, sums);
      if (way == NO_HOLES) scaleRow(sums, inX, 1 / share, width, to);
      else if (way == FEW_HOLES) scaleKnown(sums, inX, share, weights + <usize>(y - top) * row8, from, width, to);
      else {
        sumColumns(weights + at, zeros, width, height, y, half, radius, sums + row8);
        divideRow(sums, sums + row8, from, width, to, way == FILL_HOLES);
      }
    }
  }
}

/** Smooth as `smooth` does, but only every so many pixels of a picture without holes. @param values scratch, f64, width·height. */
export function smoothSome(
  data: usize,
  width: i32,
  height: i32,
  half: usize,
  radius: i32,
  inX: usize,
  inY: usize,
  line: usize,
  values: usize,
  step: i32,
  out: usize,
): void {
  const row8 = <usize>width << 3;
  memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
  for (let y = 0; y < height; y++) {
    copyRow(data + <usize>(y * width) * 4, width, line + (<usize>radius << 3));
    convolveLine(line, width, half, radius, values + <usize>y * row8);
  }
  for (let i = 0; i < width * height; i += step, out += 4) {
    const y = i / width;
    const at = values + (<usize>i << 3);
    let sum = load<f64>(half) * load<f64>(at);
    for (let j = 1; j <= radius; j++) {
      const above = y >= j ? load<f64>(at - <usize>j * row8) : 0;
      const below = y + j < height ? load<f64>(at + <usize>j * row8) : 0;
      sum += load<f64>(half + (<usize>j << 3)) * (above + below);
    }
    const share = load<f64>(inX + (<usize>(i % width) << 3));
    store<f32>(out, <f32>((sum * (1 / load<f64>(inY + (<usize>y << 3)))) / share));
  }
}

/** A row as doubles, holes as 0. */
function copyRow(from: usize, width: i32, to: usize): void {
  const end = from + (<usize>width << 2);
  for (; from + 16 <= end; from += 16) {
    const four = v128.load(from);
    const known = v128.and(four, f32x4.eq(four, four));
    v128.store(to, f64x2.promote_low_f32x4(known));
    v128.store(to, f64x2.promote_low_f32x4(v128.shuffle<i64>(known, known, 1, 1)), 16);
    to += 32;
  }
  for (; from < end; from += 4) {
    const value = load<f32>(from);
    store<f64>(to, value != value ? 0 : <f64>value);
    to += 8;
  }
}

function maskRow(from: usize, width: i32, to: usize): void {
  const end = from + (<usize>width << 2);
  for (; from < end; from += 4) {
    const value = load<f32>(from);
    store<f64>(to, value != value ? 0 : 1);
    to += 8;
  }
}

/** One line convolved. @param line f64, radius zeros, the line, radius zeros. @param half f64, radius + 1. @param out f64. */
export function convolveLine(line: usize, width: i32, half: usize, radius: i32, out: usize): void {
  let at = line + (<usize>radius << 3);
  const end = at + (<usize>width << 3);
  const reach = <usize>radius << 3;
  const centre = v128.load64_splat(half);
  while (at + 64 <= end) {
    let a = f64x2.mul(centre, v128.load(at));
    let b = f64x2.mul(centre, v128.load(at, 16));
    let c = f64x2.mul(centre, v128.load(at, 32));
    let d = f64x2.mul(centre, v128.load(at, 48));
    for (let j: usize = 8; j <= reach; j += 8) {
      const weight = v128.load64_splat(half + j);
      const left = at - j;
      const right = at + j;
      a = f64x2.add(a, f64x2.mul(weight, f64x2.add(v128.load(left), v128.load(right))));
      b = f64x2.add(b, f64x2.mul(weight, f64x2.add(v128.load(left, 16), v128.load(right, 16))));
      c = f64x2.add(c, f64x2.mul(weight, f64x2.add(v128.load(left, 32), v128.load(right, 32))));
      d = f64x2.add(d, f64x2.mul(weight, f64x2.add(v128.load(left, 48), v128.load(right, 48))));
    }
    v128.store(out, a);
    v128.store(out, b, 16);
    v128.store(out, c, 32);
    v128.store(out, d, 48);
    at += 64;
    out += 64;
  }
  for (; at < end; at += 8) {
    let sum = load<f64>(half) * load<f64>(at);
    for (let j: usize = 8; j <= reach; j += 8) sum += load<f64>(half + j) * (load<f64>(at - j) + load<f64>(at + j));
    store<f64>(out, sum);
    out += 8;
  }
}

/** Weighted sums of the rows around row y, from its centre outwards, eight columns at a time. */
function sumColumns(
  row: usize,
  zeros: usize,
  width: i32,
  height: i32,
  y: i32,
  half: usize,
  radius: i32,
  sums: usize,
): void {
  const row8 = <usize>width << 3;
  const centre = v128.load64_splat(half);
  let at: usize = 0;
  if (y >= radius && y + radius < height) {
    const last = half + (<usize>radius << 3);
    for (; at + 64 <= row8; at += 64) {
      let above = row + at;
      let below = above;
      let a = f64x2.mul(centre, v128.load(above));
      let b = f64x2.mul(centre, v128.load(above, 16));
      let c = f64x2.mul(centre, v128.load(above, 32));
      let d = f64x2.mul(centre, v128.load(above, 48));
      for (let weigh = half + 8; weigh <= last; weigh += 8) {
        above -= row8;
        below += row8;
        const weight = v128.load64_splat(weigh);
        a = f64x2.add(a, f64x2.mul(weight, f64x2.add(v128.load(above), v128.load(below))));
        b = f64x2.add(b, f64x2.mul(weight, f64x2.add(v128.load(above, 16), v128.load(below, 16))));
        c = f64x2.add(c, f64x2.mul(weight, f64x2.add(v128.load(above, 32), v128.load(below, 32))));
        d = f64x2.add(d, f64x2.mul(weight, f64x2.add(v128.load(above, 48), v128.load(below, 48))));
      }
      v128.store(sums + at, a);
      v128.store(sums + at, b, 16);
      v128.store(sums + at, c, 32);
      v128.store(sums + at, d, 48);
    }
  }
  for (; at + 64 <= row8; at += 64) {
    let a = f64x2.mul(centre, v128.load(row + at));
    let b = f64x2.mul(centre, v128.load(row + at, 16));
    let c = f64x2.mul(centre, v128.load(row + at, 32));
    let d = f64x2.mul(centre, v128.load(row + at, 48));
    for (let j = 1; j <= radius; j++) {
      const above = (y >= j ? row - <usize>j * row8 : zeros) + at;
      const below = (y + j < height ? row + <usize>j * row8 : zeros) + at;
      const weight = v128.load64_splat(half + (<usize>j << 3));
      a = f64x2.add(a, f64x2.mul(weight, f64x2.add(v128.load(above), v128.load(below))));
      b = f64x2.add(b, f64x2.mul(weight, f64x2.add(v128.load(above, 16), v128.load(below, 16))));
      c = f64x2.add(c, f64x2.mul(weight, f64x2.add(v128.load(above, 32), v128.load(below, 32))));
      d = f64x2.add(d, f64x2.mul(weight, f64x2.add(v128.load(above, 48), v128.load(below, 48))));
    }
    v128.store(sums + at, a);
    v128.store(sums + at, b, 16);
    v128.store(sums + at, c, 32);
    v128.store(sums + at, d, 48);
  }
  for (; at < row8; at += 8) {
    let sum = load<f64>(half) * load<f64>(row + at);
    for (let j = 1; j <= radius; j++) {
      const above = (y >= j ? row - <usize>j * row8 : zeros) + at;
      const below = (y + j < height ? row + <usize>j * row8 : zeros) + at;
      sum += load<f64>(half + (<usize>j << 3)) * (load<f64>(above) + load<f64>(below));
    }
    store<f64>(sums + at, sum);
  }
}

/** A row where nothing is missing. */
function scaleRow(sums: usize, inX: usize, scaleY: f64, width: i32, out: usize): void {
  const row8 = <usize>width << 3;
  let at: usize = 0;
  for (; at + 16 <= row8; at += 16) {
    const scaled = f64x2.mul(v128.load(sums + at), f64x2.splat(scaleY));
    v128.store64_lane(out + (at >> 1), f32x4.demote_f64x2_zero(f64x2.div(scaled, v128.load(inX + at))), 0);
  }
  if (at < row8) store<f32>(out + (at >> 1), <f32>((load<f64>(sums + at) * scaleY) / load<f64>(inX + at)));
}

/** A row of a picture with few holes. @param inY share of the kernel inside the columns. */
function scaleKnown(sums: usize, inX: usize, inY: f64, missing: usize, data: usize, width: i32, out: usize): void {
  const row8 = <usize>width << 3;
  let at: usize = 0;
  for (; at + 16 <= row8; at += 16) {
    const weight = f64x2.sub(f64x2.mul(v128.load(inX + at), f64x2.splat(inY)), v128.load(missing + at));
    const seen = v128.load64_zero(data + (at >> 1));
    const value = f32x4.demote_f64x2_zero(f64x2.div(v128.load(sums + at), weight));
    v128.store64_lane(out + (at >> 1), v128.bitselect(value, f32x4.splat(NaN), f32x4.eq(seen, seen)), 0);
  }
  if (at < row8) {
    const value = load<f64>(sums + at) / (load<f64>(inX + at) * inY - load<f64>(missing + at));
    const seen = load<f32>(data + (at >> 1));
    store<f32>(out + (at >> 1), seen != seen ? NaN : <f32>value);
  }
}

function divideRow(sums: usize, weights: usize, data: usize, width: i32, out: usize, fill: bool): void {
  const end = out + (<usize>width << 2);
  for (; out < end; out += 4) {
    const seen = load<f32>(data);
    const weight = load<f64>(weights);
    // Below 1e-12 of the kernel nothing is left but rounding.
    store<f32>(out, (!fill && seen != seen) || weight < 1e-12 ? NaN : <f32>(load<f64>(sums) / weight));
    sums += 8;
    weights += 8;
    data += 4;
  }
}

/** Add to each pixel the weight of the holes of row y.
 *  @param line zeros; changed. @param touched scratch: the columns that the holes reach.
 *  @param missing f64, rows from `top` on, as many as there are between it and those that the row reaches.
 */
function addMissing(
  data: usize,
  width: i32,
  height: i32,
  half: usize,
  radius: i32,
  line: usize,
  touched: usize,
  missing: usize,
  y: i32,
  top: i32,
): void {
  const row8 = <usize>width << 3;
  const reach = <usize>radius << 3;
  const inside = line + reach;
  // Columns from here on are not in the list yet.
  let next = 0;
  let count = 0;
  for (let x = nextMissing(data, width, y, 0); x < width; x = nextMissing(data, width, y, x + 1)) {
    const at = inside + (<usize>x << 3);
    store<f64>(at, load<f64>(at) + load<f64>(half));
    for (let j: usize = 8; j <= reach; j += 8) {
      const weight = load<f64>(half + j);
      store<f64>(at - j, load<f64>(at - j) + weight);
      store<f64>(at + j, load<f64>(at + j) + weight);
    }
    const last = min(width - 1, x + radius);
    for (next = max(next, x - radius); next <= last; next++) store<i32>(touched + (<usize>(count++) << 2), next);
  }
  if (count == 0) return;
  for (let row = max(0, y - radius); row <= min(height - 1, y + radius); row++) {
    // Rows above the block are done.
    if (row < top) continue;
    const weight = load<f64>(half + (<usize>abs(row - y) << 3));
    const to = missing + <usize>(row - top) * row8;
    for (let k = 0; k < count; k++) {
      const at = <usize>load<i32>(touched + (<usize>k << 2)) << 3;
      store<f64>(to + at, load<f64>(to + at) + weight * load<f64>(inside + at));
    }
  }
  memory.fill(line, 0, row8 + 2 * reach);
}

/** The first pixel of a row without a reading, from x on; the width if there is none. */
@inline
function nextMissing(data: usize, width: i32, y: i32, x: i32): i32 {
  const row = data + (<usize>(y * width) << 2);
  for (; x + 4 <= width; x += 4) {
    const four = v128.load(row + (<usize>x << 2));
    const odd = i32x4.bitmask(f32x4.ne(four, four));
    if (odd != 0) return x + ctz(odd);
  }
  for (; x < width; x++) {
    const value = load<f32>(row + (<usize>x << 2));
    if (value != value) break;
  }
  return x;
}
