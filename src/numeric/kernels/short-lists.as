// kernels: loops over lists of some thousand numbers, which a process that runs once does but a few times. As in the files named at
// each.

/** Add up the scores of all blocks, and their products. normal-equations.ts, step-sums.ts.
 *  @param scores f64, three a block. @param sums f64, three, zeros at first. @param products f64, nine, added to; 0: none are wanted.
 */
export function addScores(scores: usize, blocks: i32, sums: usize, products: usize): void {
  for (const end = scores + 24 * <usize>blocks; scores < end; scores += 24) {
    for (let r: usize = 0; r < 24; r += 8) {
      const own = load<f64>(scores + r);
      store<f64>(sums + r, load<f64>(sums + r) + own);
      if (products == 0) continue;
      for (let c: usize = 0; c < 24; c += 8) {
        const to = products + 3 * r + c;
        store<f64>(to, load<f64>(to) + own * load<f64>(scores + c));
      }
    }
  }
}

/** Values and slopes of a picture at some places. edge-samples.ts. @param places i32. @param value @param slopeX @param slopeY f32. */
export function readEdges(
  shape: usize,
  places: usize,
  count: i32,
  width: i32,
  value: usize,
  slopeX: usize,
  slopeY: usize,
): void {
  const row = <usize>width << 2;
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const at = shape + (<usize>load<i32>(places + k) << 2);
    store<f32>(value + k, load<f32>(at));
    store<f32>(slopeX + k, <f32>(0.5 * (<f64>load<f32>(at + 4) - <f64>load<f32>(at - 4))));
    store<f32>(slopeY + k, <f32>(0.5 * (<f64>load<f32>(at + row) - <f64>load<f32>(at - row))));
  }
}

/** Where edges lie, and how far they stand above the usual slope. edge-samples.ts.
 *  @param half squared slope at which one counts half, squared. @param x @param y @param gate f32.
 */
export function gateEdges(
  places: usize,
  count: i32,
  width: i32,
  slopeX: usize,
  slopeY: usize,
  half: f64,
  x: usize,
  y: usize,
  gate: usize,
): void {
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const across = <f64>load<f32>(slopeX + k);
    const down = <f64>load<f32>(slopeY + k);
    const s = 4 * (across * across + down * down);
    store<f32>(gate + k, <f32>((s * s) / (s * s + half)));
    const i = load<i32>(places + k);
    store<f32>(x + k, <f32>(i % width));
    store<f32>(y + k, <f32>(i / width));
  }
}

/** Where the square cells of some places stand, rows of `across` cells. edge-steps.ts, surroundings.ts.
 *  @param x @param y f32, whole, not negative. @param each numbers that a cell has. @param out i32.
 */
export function placesIn(x: usize, y: usize, count: i32, side: i32, across: i32, each: i32, out: usize): void {
  for (let k: usize = 0; k < <usize>count << 2; k += 4) {
    const row = <i32>load<f32>(y + k) / side;
    store<i32>(out + k, each * (row * across + <i32>load<f32>(x + k) / side));
  }
}

/** Mean step from each line to the next, and what its parts agree on. line-pattern.ts.
 *  @param sums @param counts f64, `bands` for each line. @param means f64, zeros at first.
 *  @param out f64, two: power of the means, and what the scatter of the parts explains of it.
 */
export function agreedSteps(
  sums: usize,
  counts: usize,
  lines: i32,
  bands: i32,
  minPairs: f64,
  means: usize,
  out: usize,
): void {
  let power: f64 = 0;
  let scatter: f64 = 0;
  const line = <usize>bands << 3;
  for (const end = sums + <usize>lines * line; sums < end; sums += line, counts += line, means += 8) {
    let sum: f64 = 0;
    let count: f64 = 0;
    for (let i: usize = 0; i < line; i += 8) {
      sum += load<f64>(sums + i);
      count += load<f64>(counts + i);
    }
    if (count < minPairs) continue;
    const mean = sum / count;
    let square: f64 = 0;
    let parts: f64 = 0;
    for (let i: usize = 0; i < line; i += 8) {
      const own = load<f64>(counts + i);
      if (own == 0) continue;
      const beside = load<f64>(sums + i) - own * mean;
      square += beside * beside;
      parts++;
    }
    store<f64>(means, mean);
    power += mean * mean;
    scatter += parts < 2 ? mean * mean : (square / (count * count)) * (parts / (parts - 1));
  }
  store<f64>(out, power);
  store<f64>(out, scatter, 8);
}

/** Squared slopes over two pixels of every so many pixels; 0 at the border and beside holes. edge-samples.ts. @param out f32. */
export function squaredSlopes(data: usize, width: i32, n: i32, step: i32, out: usize): void {
  const row = <usize>width << 2;
  for (let i = 0; i < n; i += step, out += 4) {
    const x = i % width;
    store<f32>(out, 0);
    if (x == 0 || x == width - 1 || i < width || i >= n - width) continue;
    const at = data + (<usize>i << 2);
    const across = <f64>load<f32>(at + 4) - <f64>load<f32>(at - 4);
    const down = <f64>load<f32>(at + row) - <f64>load<f32>(at - row);
    const s = across * across + down * down;
    if (s * 0 == 0) store<f32>(out, <f32>s);
  }
}

/** Sums of products of two kernels at every place of a line, each scaled to sum 1 over what lies inside. contrast-gain.ts.
 *  @param fine @param wide f64, 2·reach + 1 each. @param out f64, three lists of `length`: fine², fine·wide, wide².
 */
export function lineProducts(fine: usize, wide: usize, reach: i32, length: i32, out: usize): void {
  const list = <usize>length << 3;
  for (let x = 0; x < length; x++) {
    const to = min(2 * reach + 1, reach + length - x);
    let sumF: f64 = 0;
    let sumW: f64 = 0;
    let ff: f64 = 0;
    let fw: f64 = 0;
    let ww: f64 = 0;
    for (let k = max(0, reach - x); k < to; k++) {
      const a = load<f64>(fine + (<usize>k << 3));
      const b = load<f64>(wide + (<usize>k << 3));
      sumF += a;
      sumW += b;
      ff += a * a;
      fw += a * b;
      ww += b * b;
    }
    store<f64>(out, ff / (sumF * sumF));
    store<f64>(out + list, fw / (sumF * sumW));
    store<f64>(out + 2 * list, ww / (sumW * sumW));
    out += 8;
  }
}

/** White noise left in a contrast at each pixel, from the products along both sides. contrast-gain.ts.
 *  @param across @param down f64, three lists each, of `width` and `height`. @param out f32.
 */
export function crossGains(across: usize, width: i32, down: usize, height: i32, out: usize): void {
  const besides = <usize>width << 3;
  const below = <usize>height << 3;
  for (let y = 0; y < height; y++, down += 8) {
    for (let x: usize = 0; x < besides; x += 8, out += 4) {
      const square =
        load<f64>(across + x) * load<f64>(down) -
        2 * load<f64>(across + besides + x) * load<f64>(down + below) +
        load<f64>(across + 2 * besides + x) * load<f64>(down + 2 * below);
      store<f32>(out, <f32>Math.sqrt(max<f64>(0, square)));
    }
  }
}

/** The cells around each pixel of a line, and their weights. spline-taps.ts. @param first i32, one a pixel. @param weights f64, three. */
export function splineTaps(length: i32, side: i32, first: usize, weights: usize): void {
  for (let x = 0; x < length; x++, first += 4, weights += 24) {
    const at = (<f64>x + 0.5) / <f64>side - 0.5;
    // As the language rounds: halves go up.
    const up = Math.ceil(at);
    const nearest = up - 0.5 > at ? up - 1 : up;
    const t = at - nearest;
    store<i32>(first, <i32>nearest);
    store<f64>(weights, 0.5 * ((0.5 - t) * (0.5 - t)));
    store<f64>(weights, 0.75 - t * t, 8);
    store<f64>(weights, 0.5 * ((0.5 + t) * (0.5 + t)), 16);
  }
}
