// kernels: gradient of a picture → its noise, read between the centres of classes. As in noise-by-gradient.ts.

/** @param centres @param sigmas f64, `classes` each. @param gradient f32, n. @param out f32. */
export function readClasses(
  centres: usize,
  sigmas: usize,
  classes: i32,
  growth: f64,
  gradient: usize,
  n: i32,
  out: usize,
): void {
  const last = <usize>(classes - 1) << 3;
  const lowest = load<f64>(centres);
  const highest = load<f64>(centres + last);
  const first = load<f64>(sigmas);
  const most = load<f64>(sigmas + last);
  for (let i: usize = 0; i < <usize>n << 2; i += 4) {
    const at = <f64>load<f32>(gradient + i);
    let value = first;
    if (at >= highest) value = Math.max(most, growth * at);
    else if (at > lowest) {
      let k: usize = 8;
      while (load<f64>(centres + k) < at) k += 8;
      const width = load<f64>(centres + k) - load<f64>(centres + k - 8);
      const share = (at - load<f64>(centres + k - 8)) / (width != 0 ? width : 1);
      value = load<f64>(sigmas + k - 8) + share * (load<f64>(sigmas + k) - load<f64>(sigmas + k - 8));
    }
    store<f32>(out + i, <f32>value);
  }
}
