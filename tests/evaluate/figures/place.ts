// evaluate: Gaussian spots in white noise, one at a time → how exactly they are placed, as a multiple of the bound.
// Bound: σ_x ≥ √(2/π)·σ/peak px for a Gaussian spot of any width (Condon 1997, doi 10.1086/133871, DOI from memory).
import { makeRandom, type Random } from "../../simulate/random.js";
import { estimateFigure, type Figure } from "../figure.js";
import { inverseOf, robustScatter, rootMeanSquare } from "../statistics.js";
import { type Analyse, asFrame, type MeasuredFrame } from "../tool-chain.js";
import type { SpecialFigure, TrialValues } from "./special.js";

const WIDTH = 72;
const HEIGHT = 54;
const SNRS = [5, 7, 10, 15, 20, 30, 50] as const;
/** Noise of a pixel of the difference, K. */
const NOISE_K = 0.05;
const BOUND = Math.sqrt(2 / Math.PI);
/** A hotspot farther off than this is another one, px. */
const MATCH_PX = 6;

export const PLACE: SpecialFigure = {
  name: "place",
  trials: 840,
  run: async (analyse, index, seed) => runTrial(analyse, index, seed),
  summarise,
};

/** One spot on an even ground and the same on a ground with edges, through the whole tool without a board. */
function runTrial(analyse: Analyse, index: number, seed: number): TrialValues {
  const snr = SNRS[index % SNRS.length]!;
  const values: Record<string, number | boolean | null> = { snr };
  for (const ground of ["even", "edges"] as const) {
    const random = makeRandom(`place/${seed}/${index}/${ground}`);
    const at = [random.uniform(0.35, 0.65) * WIDTH, random.uniform(0.35, 0.65) * HEIGHT] as const;
    const spotPx = random.uniform(1.3, 3);
    const level = ground === "even" ? () => 24 : edges(random);
    const baseline = frameOf(random, level);
    const powered = frameOf(random, (x, y) => {
      const r2 = (x - at[0]) ** 2 + (y - at[1]) ** 2;
      return level(x, y) + snr * NOISE_K * Math.exp(-r2 / (2 * spotPx ** 2));
    });
    const { hotspots } = analyse({ baseline: [baseline], powered: [powered] }).findings;
    let nearest = MATCH_PX;
    values[`${ground}X`] = null;
    for (const spot of hotspots) {
      const dx = spot.sourcePx[0] - at[0];
      const dy = spot.sourcePx[1] - at[1];
      if (Math.hypot(dx, dy) >= nearest) continue;
      nearest = Math.hypot(dx, dy);
      values[`${ground}X`] = (dx * snr) / BOUND;
      values[`${ground}Y`] = (dy * snr) / BOUND;
      values[`${ground}ZX`] = dx / spot.sourceSigmaPx;
      values[`${ground}ZY`] = dy / spot.sourceSigmaPx;
    }
  }
  return values;
}

/** A plate of 4 K with soft edges and three parts on it: what alignment needs. */
function edges(random: Random): (x: number, y: number) => number {
  const soft = (from: number, to: number, at: number): number =>
    1 / (1 + Math.exp(-2 * (at - from))) - 1 / (1 + Math.exp(-2 * (at - to)));
  const boxes = Array.from({ length: 4 }, (_, i) => {
    const [w, h] = i === 0 ? [0.8 * WIDTH, 0.75 * HEIGHT] : [random.uniform(5, 16), random.uniform(4, 12)];
    const x = i === 0 ? 0.1 * WIDTH : random.uniform(0.15, 0.65) * WIDTH;
    const y = i === 0 ? 0.12 * HEIGHT : random.uniform(0.15, 0.65) * HEIGHT;
    return { x, y, w, h, riseK: i === 0 ? 4 : random.sign() * random.uniform(0.5, 1.5) };
  });
  return (x, y) => {
    let sum = 22;
    for (const box of boxes) sum += box.riseK * soft(box.x, box.x + box.w, x) * soft(box.y, box.y + box.h, y);
    return sum;
  };
}

/** A frame with half the variance of the difference. */
function frameOf(random: Random, level: (x: number, y: number) => number): MeasuredFrame {
  const data = new Float32Array(WIDTH * HEIGHT);
  for (let y = 0, k = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, k++) data[k] = level(x, y) + NOISE_K * Math.SQRT1_2 * random.normal();
  }
  return asFrame({ unit: "degC", width: WIDTH, height: HEIGHT, data }, 0);
}

function summarise(trials: readonly TrialValues[]): Figure[] {
  const numbers = (some: readonly TrialValues[], ...names: string[]): number[] =>
    some
      .flatMap((trial) => names.map((name) => trial[name]))
      .filter((v): v is number => typeof v === "number");
  const form = { unit: "", digits: 2 } as const;
  return (["even", "edges"] as const).flatMap((ground) => {
    const words = ground === "even" ? "even ground" : "ground with edges";
    const held = ground === "even";
    const missed = trials.length - numbers(trials, `${ground}X`).length;
    const errors = numbers(trials, `${ground}X`, `${ground}Y`);
    const stated = robustScatter(numbers(trials, `${ground}ZX`, `${ground}ZY`));
    const bySnr = SNRS.map((snr) => {
      const some = trials.filter((trial) => trial.snr === snr);
      const value = rootMeanSquare(numbers(some, `${ground}X`, `${ground}Y`))?.value;
      return `${snr}: ${value?.toFixed(2) ?? "–"}`;
    });
    const robust = robustScatter(errors)?.value;
    return [
      {
        ...estimateFigure(
          `place of a spot ÷ bound, SNR 5–50, ${words}`,
          rootMeanSquare(errors),
          form,
          { atMost: 1.2 },
          { atMost: 1.05 },
        ),
        remark: `robust ${robust?.toFixed(2) ?? "–"}; by SNR ${bySnr.join(", ")}; not found ${missed} of ${trials.length}`,
      },
      estimateFigure(
        `  stated σ ÷ true scatter, ${words}`,
        inverseOf(stated),
        form,
        held ? { between: [0.8, 1.25] } : null,
        held ? { between: [0.9, 1.1] } : null,
      ),
    ];
  });
}
