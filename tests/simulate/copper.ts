// simulate: a stream of random numbers → uneven copper, as a factor on the plate's conductance.
import { boundsOf, type Point } from "./polygons.js";
import type { Random } from "./random.js";

/** Draw how the copper varies: a smooth part of ±`smooth` and a few planes and voids with sharp edges.
 *  @returns the factor at a point in board mm; its mean over the board is about 1.
 */
export function randomCopper(
  random: Random,
  outline: readonly Point[],
  smooth = 0.4,
): (x: number, y: number) => number {
  const [x0, y0, x1, y1] = boundsOf(outline);
  const waves = Array.from({ length: 10 }, () => {
    const lengthMm = random.logUniform(10, 70);
    const angle = random.uniform(0, Math.PI);
    const k = (2 * Math.PI) / lengthMm;
    return { kx: k * Math.cos(angle), ky: k * Math.sin(angle), phase: random.uniform(0, 2 * Math.PI) };
  });
  const planes = Array.from({ length: random.integer(2, 6) }, () => {
    const cx = random.uniform(x0, x1);
    const cy = random.uniform(y0, y1);
    const w = random.uniform(0.1, 0.4) * (x1 - x0);
    const h = random.uniform(0.1, 0.4) * (y1 - y0);
    const factor = random.chance(0.5) ? random.uniform(1.25, 1.9) : random.uniform(0.4, 0.75);
    return { x0: cx - w / 2, x1: cx + w / 2, y0: cy - h / 2, y1: cy + h / 2, factor };
  });
  const scale = smooth / Math.sqrt(waves.length / 2) / 1.5;
  const raw = (x: number, y: number): number => {
    let sum = 0;
    for (const wave of waves) sum += Math.cos(wave.kx * x + wave.ky * y + wave.phase);
    let factor = 1 + Math.min(smooth, Math.max(-smooth, scale * sum));
    for (const plane of planes) {
      if (x > plane.x0 && x < plane.x1 && y > plane.y0 && y < plane.y1) factor *= plane.factor;
    }
    return Math.min(3, Math.max(0.25, factor));
  };
  let mean = 0;
  const steps = 24;
  for (let j = 0; j < steps; j++) {
    for (let i = 0; i < steps; i++) {
      mean += raw(x0 + ((i + 0.5) / steps) * (x1 - x0), y0 + ((j + 0.5) / steps) * (y1 - y0)) / steps ** 2;
    }
  }
  return (x, y) => raw(x, y) / mean;
}
