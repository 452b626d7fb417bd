// tests: a part of the board of relaxed-plate.ts under a supply that goes on and off → the rhythm that its plate shows.
import { pointInPolygon } from "../../../src/board/polygon.js";
import { framePoint } from "../../../src/core/units.js";
import type { Candidate, SourceModel } from "../../../src/sources/source-model.js";
import { makePlateGrid, solveTransient } from "../../simulate/plate.js";
import { BOARD } from "./relaxed-plate.js";

const CELL_MM = 0.4;
const STEPS = 32;
const PERIODS = 4;
/** The plate of relaxed-plate.ts; what it holds is 2000 J/m²K. */
const CONDUCTANCE = 0.008;
const CONSTANTS = { lossWPerM2K: 20, heatCapacityJPerM2K: 2000 };

/** Amplitudes of cos ωt and sin ωt in the model's first picture, K, t from a change to on: by the simulator's steps in
 *  time on an even plate, with no body that is warmer.
 *  @param watts while the supply is on, for half of each period.
 */
export function switchedPlate(
  model: SourceModel,
  { polygon }: Pick<Candidate, "polygon">,
  watts: number,
  periodS: number,
): { cosine: Float32Array; sine: Float32Array } {
  const grid = makePlateGrid(BOARD.outline, CELL_MM, () => CONDUCTANCE);
  const heat = new Float64Array(grid.inside.length);
  const placeOf = (c: number): [number, number] => [
    (0.5 + (c % grid.nx)) * CELL_MM,
    (0.5 + Math.floor(c / grid.nx)) * CELL_MM,
  ];
  const inside = [...heat.keys()].filter((c) => pointInPolygon(polygon, placeOf(c)));
  for (const c of inside) heat[c] = watts / inside.length;
  const times = Array.from({ length: PERIODS * STEPS }, (_, k) => ((k + 1) * periodS) / STEPS);
  const answers = solveTransient(grid, CONSTANTS, heat, times);
  const [cosine, sine] = [new Float64Array(heat.length), new Float64Array(heat.length)];
  // The rise at step k is the sum of ±(answer to a step) since each change of the supply, its mean taken off: from half
  // of the heat below it to half above. The last period is demodulated.
  for (let k = (PERIODS - 1) * STEPS; k < PERIODS * STEPS; k++) {
    const angle = (2 * Math.PI * times[k]!) / periodS;
    for (let half = 0; half * (STEPS / 2) <= k; half++) {
      const answer = answers[k - half * (STEPS / 2)]!;
      const change = half === 0 ? 0.5 : half % 2 === 0 ? 1 : -1;
      const weight = (2 * change) / STEPS;
      for (let c = 0; c < heat.length; c++) {
        cosine[c]! += weight * Math.cos(angle) * answer[c]!;
        sine[c]! += weight * Math.sin(angle) * answer[c]!;
      }
    }
  }
  const { view, seen } = model.pictures[0]!;
  const show = (values: Float64Array): Float32Array => {
    const out = new Float32Array(model.size);
    for (const pixel of seen.pixels) {
      const [x, y] = view.toBoard(framePoint(pixel % seen.width, Math.floor(pixel / seen.width)));
      const i = Math.max(0, Math.min(grid.nx - 1, Math.floor(x / CELL_MM)));
      const j = Math.max(0, Math.min(grid.ny - 1, Math.floor(y / CELL_MM)));
      out[pixel] = seen.shown[pixel]! * values[j * grid.nx + i]!;
    }
    return out;
  };
  return { cosine: show(cosine), sine: show(sine) };
}
