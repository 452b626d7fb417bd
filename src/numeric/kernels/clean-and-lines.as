// kernels: pixels against their neighbours, and lines against the next. As in find-lone-pixels.ts and line-pattern.ts.

/** List the pixels that may stand out from their neighbours: those at the border, and those with fewer than five of eight
 *  neighbours within a limit.
 *  @param data f32. @param out i32, room for all. @returns how many there are.
 */
export function mayStandOut(data: usize, width: i32, height: i32, least: f64, out: usize): i32 {
  let count = 0;
  const row4 = <usize>width << 2;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const i = y * width + x;
      const at = data + (<usize>i << 2);
      if (x > 0 && y > 0 && x + 1 < width && y + 1 < height) {
        const value = <f64>load<f32>(at);
        const low = value - least;
        const high = value + least;
        let within = inside(at - 4, low, high) + inside(at + 4, low, high);
        within += inside(at - row4, low, high) + inside(at + row4, low, high);
        within += inside(at - row4 - 4, low, high);
        if (within == 5) continue;
        within += inside(at - row4 + 4, low, high) + inside(at + row4 - 4, low, high);
        within += inside(at + row4 + 4, low, high);
        if (within >= 5) continue;
      }
      store<i32>(out + (<usize>count << 2), i);
      count++;
    }
  }
  return count;
}

@inline
function inside(at: usize, low: f64, high: f64): i32 {
  const value = <f64>load<f32>(at);
  return value >= low && value <= high ? 1 : 0;
}

/** Distance of every so many pixels from the median of their eight neighbours; NaN with fewer than three.
 *  @param near scratch, eight f64. @param out f64, one per pixel of the sample.
 */
export function medianDistances(data: usize, width: i32, height: i32, step: i32, near: usize, out: usize): void {
  for (let i = 0; i < width * height; i += step) {
    const x = i % width;
    const y = i / width;
    let count = 0;
    for (let v = y > 0 ? y - 1 : y; v <= (y + 1 < height ? y + 1 : y); v++) {
      for (let u = x > 0 ? x - 1 : x; u <= (x + 1 < width ? x + 1 : x); u++) {
        if (u == x && v == y) continue;
        const value = <f64>load<f32>(data + (<usize>(v * width + u) << 2));
        if (value != value) continue;
        let at = near + (<usize>count << 3);
        count++;
        for (; at > near && load<f64>(at - 8) > value; at -= 8) store<f64>(at, load<f64>(at - 8));
        store<f64>(at, value);
      }
    }
    let distance: f64 = NaN;
    if (count >= 3) {
      const half = near + (<usize>(count >> 1) << 3);
      const middle = (count & 1) == 1 ? load<f64>(half) : (load<f64>(half - 8) + load<f64>(half)) / 2;
      distance = <f64>load<f32>(data + (<usize>i << 2)) - middle;
    }
    store<f64>(out, distance);
    out += 8;
  }
}

/** Add up the differences from each column to the next, by bands of rows, where the cells of 2×2 pixels are clear.
 *  @param clear u8 per cell, w·h. @param every row step. @param sums @param counts f64, `bands` per column.
 */
export function columnSteps(
  data: usize,
  width: i32,
  height: i32,
  clear: usize,
  w: i32,
  h: i32,
  every: i32,
  bands: i32,
  sums: usize,
  counts: usize,
): void {
  for (let y = 0; y < 2 * h; y += every) {
    const cells = clear + <usize>((y >> 1) * w);
    const band = (y * bands) / height;
    for (let x = 0; x < min(2 * w, width - 1); x++) {
      if (load<u8>(cells + <usize>(x >> 1)) != 1) continue;
      const at = data + (<usize>(y * width + x) << 2);
      addStep(sums, counts, x * bands + band, <f64>load<f32>(at, 4) - <f64>load<f32>(at));
    }
  }
}

/** The same from each row to the next, by bands of columns. */
export function rowSteps(
  data: usize,
  width: i32,
  height: i32,
  clear: usize,
  w: i32,
  h: i32,
  every: i32,
  bands: i32,
  sums: usize,
  counts: usize,
): void {
  for (let y = 0; y < min(2 * h, height - 1); y++) {
    const cells = clear + <usize>((y >> 1) * w);
    for (let x = 0; x < 2 * w; x += every) {
      if (load<u8>(cells + <usize>(x >> 1)) != 1) continue;
      const at = data + (<usize>(y * width + x) << 2);
      const step = <f64>load<f32>(at + (<usize>width << 2)) - <f64>load<f32>(at);
      addStep(sums, counts, y * bands + (x * bands) / width, step);
    }
  }
}

@inline
function addStep(sums: usize, counts: usize, part: i32, step: f64): void {
  if (!(step * 0 == 0)) return;
  const at = <usize>part << 3;
  store<f64>(sums + at, load<f64>(sums + at) + step);
  store<f64>(counts + at, load<f64>(counts + at) + 1);
}
