// kernels: picture → the same smoothed by a Gaussian, exactly or on cells. The same sums, in the same order, as in
// gaussian-filter.ts, convolve-lines.ts and wide-gaussian.ts.

/** What becomes of holes in `smooth`. */
const NO_HOLES = 0;
const FEW_HOLES = 1;
const FILL_HOLES = 3;

/** Smooth a picture by a separable kernel, cut at the border and at holes and scaled to sum 1.
 *  @param data f32. @param half f64, radius + 1, the kernel from its centre outwards.
 *  @param inX @param inY f64, share of the kernel inside a line.
 *  @param line scratch, f64, width + 2·radius. @param values scratch, f64, width·(height + 1).
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
  memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
  memory.fill(values + <usize>height * row8, 0, row8);
  for (let y = 0; y < height; y++) {
    copyRow(data + <usize>y * row4, width, line + (<usize>radius << 3), way != NO_HOLES);
    convolveLine(line, width, half, radius, values + <usize>y * row8);
  }
  if (way == FEW_HOLES) {
    memory.fill(weights, 0, <usize>height * row8);
    addMissing(data, width, height, half, radius, line, weights);
  } else if (way > FEW_HOLES) {
    memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
    memory.fill(weights + <usize>height * row8, 0, row8);
    for (let y = 0; y < height; y++) {
      maskRow(data + <usize>y * row4, width, line + (<usize>radius << 3));
      convolveLine(line, width, half, radius, weights + <usize>y * row8);
    }
  }
  for (let y = 0; y < height; y++) {
    sumColumns(values, width, height, y, half, radius, sums);
    const to = out + <usize>y * row4;
    const from = data + <usize>y * row4;
    if (way == NO_HOLES) scaleRow(sums, inX, 1 / load<f64>(inY + (<usize>y << 3)), width, to);
    else if (way == FEW_HOLES) {
      scaleRowWithHoles(sums, inX, load<f64>(inY + (<usize>y << 3)), weights + <usize>y * row8, from, width, to);
    } else {
      sumColumns(weights, width, height, y, half, radius, sums + row8);
      divideRow(sums, sums + row8, from, width, to, way == FILL_HOLES);
    }
  }
}

function copyRow(from: usize, width: i32, to: usize, holes: bool): void {
  const end = from + (<usize>width << 2);
  for (; from < end; from += 4) {
    const value = load<f32>(from);
    store<f64>(to, holes && value != value ? 0 : <f64>value);
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

function convolveLine(line: usize, width: i32, half: usize, radius: i32, out: usize): void {
  let at = line + (<usize>radius << 3);
  const end = at + (<usize>width << 3);
  const reach = <usize>radius << 3;
  const centre = v128.load64_splat(half);
  while (at + 32 <= end) {
    let a = f64x2.mul(centre, v128.load(at));
    let b = f64x2.mul(centre, v128.load(at, 16));
    for (let j: usize = 8; j <= reach; j += 8) {
      const weight = v128.load64_splat(half + j);
      a = f64x2.add(a, f64x2.mul(weight, f64x2.add(v128.load(at - j), v128.load(at + j))));
      b = f64x2.add(b, f64x2.mul(weight, f64x2.add(v128.load(at - j, 16), v128.load(at + j, 16))));
    }
    v128.store(out, a);
    v128.store(out, b, 16);
    at += 32;
    out += 32;
  }
  for (; at < end; at += 8) {
    let sum = load<f64>(half) * load<f64>(at);
    for (let j: usize = 8; j <= reach; j += 8) sum += load<f64>(half + j) * (load<f64>(at - j) + load<f64>(at + j));
    store<f64>(out, sum);
    out += 8;
  }
}

function sumColumns(values: usize, width: i32, height: i32, y: i32, half: usize, radius: i32, sum: usize): void {
  const row8 = <usize>width << 3;
  const zeros = values + <usize>height * row8;
  const row = values + <usize>y * row8;
  const centre = load<f64>(half);
  scaleInto(row, width, centre, sum);
  for (let j = 1; j <= radius; j++) {
    const above = y >= j ? row - <usize>j * row8 : zeros;
    const below = y + j < height ? row + <usize>j * row8 : zeros;
    addRows(above, below, width, load<f64>(half + (<usize>j << 3)), sum);
  }
}

function scaleInto(from: usize, width: i32, by: f64, to: usize): void {
  const end = from + (<usize>width << 3);
  const factor = f64x2.splat(by);
  while (from + 16 <= end) {
    v128.store(to, f64x2.mul(factor, v128.load(from)));
    from += 16;
    to += 16;
  }
  if (from < end) store<f64>(to, by * load<f64>(from));
}

function addRows(above: usize, below: usize, width: i32, weight: f64, sum: usize): void {
  const end = above + (<usize>width << 3);
  const factor = f64x2.splat(weight);
  while (above + 16 <= end) {
    const both = f64x2.add(v128.load(above), v128.load(below));
    v128.store(sum, f64x2.add(v128.load(sum), f64x2.mul(factor, both)));
    above += 16;
    below += 16;
    sum += 16;
  }
  if (above < end) store<f64>(sum, load<f64>(sum) + weight * (load<f64>(above) + load<f64>(below)));
}

function scaleRow(sums: usize, inX: usize, scaleY: f64, width: i32, out: usize): void {
  const end = out + (<usize>width << 2);
  for (; out < end; out += 4) {
    store<f32>(out, <f32>((load<f64>(sums) * scaleY) / load<f64>(inX)));
    sums += 8;
    inX += 8;
  }
}

function scaleRowWithHoles(sums: usize, inX: usize, inY: f64, missing: usize, data: usize, width: i32, out: usize): void {
  const end = out + (<usize>width << 2);
  for (; out < end; out += 4) {
    const value = load<f64>(sums) / (load<f64>(inX) * inY - load<f64>(missing));
    const seen = load<f32>(data);
    store<f32>(out, seen != seen ? NaN : <f32>value);
    sums += 8;
    inX += 8;
    missing += 8;
    data += 4;
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

/** Add to each pixel the weight of the holes around it. */
function addMissing(data: usize, width: i32, height: i32, half: usize, radius: i32, line: usize, missing: usize): void {
  const row8 = <usize>width << 3;
  const inside = line + (<usize>radius << 3);
  for (let y = 0; y < height; y++) {
    let any = false;
    for (let x = 0; x < width; x++) {
      const value = load<f32>(data + (<usize>(y * width + x) << 2));
      if (value == value) continue;
      if (!any) memory.fill(line, 0, <usize>(width + 2 * radius) << 3);
      any = true;
      const at = inside + (<usize>x << 3);
      store<f64>(at, load<f64>(at) + load<f64>(half));
      for (let j: usize = 8; j <= <usize>radius << 3; j += 8) {
        const weight = load<f64>(half + j);
        store<f64>(at - j, load<f64>(at - j) + weight);
        store<f64>(at + j, load<f64>(at + j) + weight);
      }
    }
    if (!any) continue;
    for (let row = max(0, y - radius); row <= min(height - 1, y + radius); row++) {
      const weight = load<f64>(half + (<usize>abs(row - y) << 3));
      const to = missing + <usize>row * row8;
      for (let x: usize = 0; x < row8; x += 8) {
        const share = load<f64>(inside + x);
        if (share > 0) store<f64>(to + x, load<f64>(to + x) + weight * share);
      }
    }
  }
}

/** Smooth a picture by a wide Gaussian, computed on cells.
 *  @param data f32. @param weights f32 per pixel, or 0: all alike.
 *  @param firstX @param firstY i32, the first of three cells for each pixel of a line; their weights at tapsX, tapsY, f64.
 *  @param w @param h cells. @param half f64, radius + 1.
 *  @param sums @param counts @param work scratch, f64, w·h each. @param line scratch, f64, 2·w.
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
  sums: usize,
  counts: usize,
  work: usize,
  line: usize,
  out: usize,
): void {
  const counted = line + (<usize>w << 3);
  memory.fill(sums, 0, <usize>(w * h) << 3);
  memory.fill(counts, 0, <usize>(w * h) << 3);
  for (let y = 0; y < height; y++) {
    memory.fill(line, 0, <usize>w << 4);
    const start = <usize>(y * width) << 2;
    shareRow(data + start, weights == 0 ? 0 : weights + start, width, firstX, tapsX, line, counted);
    const first = <usize>(load<i32>(firstY + (<usize>y << 2)) * w) << 3;
    for (let j = 0; j < 3; j++) {
      const share = load<f64>(tapsY + (<usize>(3 * y + j) << 3));
      const to = first + (<usize>(j * w) << 3);
      addLine(line, share, sums + to, w);
      addLine(counted, share, counts + to, w);
    }
  }
  smoothAlong(sums, work, w, h, half, radius);
  smoothDown(work, sums, w, h, half, radius);
  smoothAlong(counts, work, w, h, half, radius);
  smoothDown(work, counts, w, h, half, radius);
  for (let i: usize = 0; i < <usize>(w * h) << 3; i += 8) {
    const count = load<f64>(counts + i);
    store<f64>(sums + i, count > 1e-9 ? load<f64>(sums + i) / count : NaN);
  }
  for (let y = 0; y < height; y++) {
    const taps = tapsY + (<usize>(3 * y) << 3);
    const cells = sums + (<usize>(load<i32>(firstY + (<usize>y << 2)) * w) << 3);
    mixRows(cells, w, load<f64>(taps), load<f64>(taps, 8), load<f64>(taps, 16), line);
    readRow(line, width, firstX, tapsX, out + (<usize>(y * width) << 2));
  }
}

function shareRow(data: usize, weights: usize, width: i32, first: usize, taps: usize, line: usize, counted: usize): void {
  for (let x: usize = 0; x < <usize>width << 2; x += 4) {
    const value = <f64>load<f32>(data + x);
    // Neither a hole nor something endless counts.
    const weight = value * 0 == 0 ? (weights == 0 ? 1 : <f64>load<f32>(weights + x)) : 0;
    if (weight == 0) continue;
    const at = <usize>load<i32>(first + x) << 3;
    const tap = taps + 6 * x;
    for (let j: usize = 0; j < 24; j += 8) {
      const share = weight * load<f64>(tap + j);
      store<f64>(line + at + j, load<f64>(line + at + j) + share * value);
      store<f64>(counted + at + j, load<f64>(counted + at + j) + share);
    }
  }
}

function addLine(from: usize, share: f64, to: usize, w: i32): void {
  const end = from + (<usize>w << 3);
  for (; from < end; from += 8) {
    store<f64>(to, load<f64>(to) + share * load<f64>(from));
    to += 8;
  }
}

/** Every row convolved; nothing lies beyond its ends. */
function smoothAlong(from: usize, to: usize, w: i32, h: i32, half: usize, radius: i32): void {
  for (let line = 0; line < h; line++) {
    const start = <usize>(line * w) << 3;
    for (let k = 0; k < w; k++) {
      const at = from + start + (<usize>k << 3);
      let sum = load<f64>(half) * load<f64>(at);
      for (let j = 1; j <= radius; j++) {
        const step = <usize>j << 3;
        const weight = load<f64>(half + step);
        if (k >= j) sum += weight * load<f64>(at - step);
        if (k + j < w) sum += weight * load<f64>(at + step);
      }
      store<f64>(to + start + (<usize>k << 3), sum);
    }
  }
}

/** Every column. */
function smoothDown(from: usize, to: usize, w: i32, h: i32, half: usize, radius: i32): void {
  const row8 = <usize>w << 3;
  for (let k = 0; k < h; k++) {
    const at = from + <usize>k * row8;
    const out = to + <usize>k * row8;
    scaleInto(at, w, load<f64>(half), out);
    for (let j = 1; j <= radius; j++) {
      const weight = load<f64>(half + (<usize>j << 3));
      if (k >= j) addLine(at - <usize>j * row8, weight, out, w);
      if (k + j < h) addLine(at + <usize>j * row8, weight, out, w);
    }
  }
}

function mixRows(cells: usize, w: i32, a: f64, b: f64, c: f64, out: usize): void {
  const row8 = <usize>w << 3;
  const end = cells + row8;
  for (; cells < end; cells += 8) {
    store<f64>(out, a * load<f64>(cells) + b * load<f64>(cells + row8) + c * load<f64>(cells + 2 * row8));
    out += 8;
  }
}

function readRow(line: usize, width: i32, first: usize, taps: usize, out: usize): void {
  for (let x: usize = 0; x < <usize>width << 2; x += 4) {
    const at = line + (<usize>load<i32>(first + x) << 3);
    const tap = taps + 6 * x;
    const sum = load<f64>(tap) * load<f64>(at) + load<f64>(tap, 8) * load<f64>(at, 8) + load<f64>(tap, 16) * load<f64>(at, 16);
    store<f32>(out + x, <f32>sum);
  }
}
