// simulate: parts that heat → heat in the plate's cells, and the shape of each body's own rise.
import type { PlateGrid } from "./plate.js";
import type { Point } from "./polygons.js";
import type { Part } from "./scene.js";

/** Share of a can's body rise that its top shows: the heat comes from a part beneath it. */
const CAN_TOP_SHARE = 0.15;
/** Loss from the top of a body, W/m²K: air and radiation. */
const BODY_LOSS_W_PER_M2K = 10;

/** Spread a part's heat over the plate beneath it: more where its die is.
 *  @returns W per cell; its sum is the heat that reaches the plate, and `centerMm` the centre of the heat.
 */
export function addPlateHeat(grid: PlateGrid, part: Part, watts: number, heatW: Float64Array): Point {
  const reaching = watts - bodyLossW(part, watts);
  const steps = Math.max(8, Math.ceil((2 * Math.max(...part.sizeMm)) / grid.cellMm));
  const c = Math.cos((part.angleDeg * Math.PI) / 180);
  const s = Math.sin((part.angleDeg * Math.PI) / 180);
  const points: { x: number; y: number; weight: number }[] = [];
  let total = 0;
  for (let j = 0; j < steps; j++) {
    for (let i = 0; i < steps; i++) {
      const u = (2 * (i + 0.5)) / steps - 1;
      const v = (2 * (j + 0.5)) / steps - 1;
      const lx = (u * part.sizeMm[0]) / 2;
      const ly = (v * part.sizeMm[1]) / 2;
      const weight = dieShape(part, u, v);
      points.push({ x: part.centerMm[0] + c * lx - s * ly, y: part.centerMm[1] + s * lx + c * ly, weight });
      total += weight;
    }
  }
  let mx = 0;
  let my = 0;
  for (const { x, y, weight } of points) {
    const share = weight / total;
    mx += share * x;
    my += share * y;
    splat(grid, x, y, share * reaching, heatW);
  }
  return [mx, my];
}

/** Heat that leaves through the body's own top, W: the rest goes to the plate. */
function bodyLossW(part: Part, watts: number): number {
  const areaM2 = part.sizeMm[0] * part.sizeMm[1] * 1e-6;
  const share =
    (BODY_LOSS_W_PER_M2K * areaM2 * part.bodyKPerW) / (1 + BODY_LOSS_W_PER_M2K * areaM2 * part.bodyKPerW);
  return watts * share;
}

/** Mean rise of a body's top above the board, K, after a time. */
export function bodyRiseK(part: Part, watts: number, timeS: number): number {
  const shown = part.kind === "shield" ? CAN_TOP_SHARE : 1;
  return shown * part.bodyKPerW * watts * (1 - Math.exp(-timeS / part.bodyTimeS));
}

/** Relative rise over a body, mean about 1: a soft hot centre over the die, cooler rims.
 *  @param u, v place in the body, −1 … 1 along its sides.
 */
export function bodyShape(part: Part, u: number, v: number): number {
  const du = u - part.dieOffset[0];
  const dv = v - part.dieOffset[1];
  const rim = (1 - 0.25 * u ** 4) * (1 - 0.25 * v ** 4);
  return rim * (0.86 + 0.8 * Math.exp(-(du * du + dv * dv) / (2 * 0.45 ** 2)));
}

function dieShape(part: Part, u: number, v: number): number {
  const du = u - part.dieOffset[0];
  const dv = v - part.dieOffset[1];
  return 0.4 + Math.exp(-(du * du + dv * dv) / (2 * 0.4 ** 2));
}

/** Share one lump of heat between the four nearest cells that lie inside, by distance. */
function splat(grid: PlateGrid, x: number, y: number, watts: number, heatW: Float64Array): void {
  const gx = (x - grid.originMm[0]) / grid.cellMm;
  const gy = (y - grid.originMm[1]) / grid.cellMm;
  const i0 = Math.floor(gx);
  const j0 = Math.floor(gy);
  const cells: [number, number][] = [];
  let sum = 0;
  for (const [i, wx] of [
    [i0, 1 - (gx - i0)],
    [i0 + 1, gx - i0],
  ] as const) {
    for (const [j, wy] of [
      [j0, 1 - (gy - j0)],
      [j0 + 1, gy - j0],
    ] as const) {
      if (i < 0 || j < 0 || i >= grid.nx || j >= grid.ny || grid.inside[j * grid.nx + i] === 0) continue;
      cells.push([j * grid.nx + i, wx * wy]);
      sum += wx * wy;
    }
  }
  if (sum === 0) throw new Error("a part's heat fell outside the plate");
  for (const [cell, weight] of cells) heatW[cell] = heatW[cell]! + (watts * weight) / sum;
}
