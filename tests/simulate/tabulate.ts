// simulate: a slow function of place → a table that is quick to look up.

/** Tabulate a function on a box, then look it up bilinearly; places outside count as the border. */
export function tabulate(
  f: (x: number, y: number) => number,
  box: readonly [number, number, number, number],
  step: number,
): (x: number, y: number) => number {
  const [x0, y0, x1, y1] = box;
  const nx = Math.ceil((x1 - x0) / step) + 2;
  const ny = Math.ceil((y1 - y0) / step) + 2;
  const table = new Float64Array(nx * ny);
  for (let j = 0; j < ny; j++)
    for (let i = 0; i < nx; i++) table[j * nx + i] = f(x0 + i * step, y0 + j * step);
  const inverseStep = 1 / step;
  return (x, y) => {
    const gx = Math.min(nx - 1.001, Math.max(0, (x - x0) * inverseStep));
    const gy = Math.min(ny - 1.001, Math.max(0, (y - y0) * inverseStep));
    const i = gx | 0;
    const j = gy | 0;
    const fx = gx - i;
    const fy = gy - j;
    const a = j * nx + i;
    const upper = table[a]! + (table[a + 1]! - table[a]!) * fx;
    const lower = table[a + nx]! + (table[a + nx + 1]! - table[a + nx]!) * fx;
    return upper + (lower - upper) * fy;
  };
}
