// place: a motion and the edges inside the board → how much better they agree in their place than elsewhere, or than
// turned.
import { applyHomography, type Matrix3 } from "../board/plane-transform.js";
import type { Raster } from "../core/raster.js";
import type { BoardArm } from "./board-arm.js";
import type { Rival } from "./board-rivals.js";
import type { EdgeCells } from "./edge-cells.js";
import type { Motion } from "./motion.js";
import { seeEdges } from "./see-edges.js";

/** What the edges inside the board say. */
export interface InnerEvidence {
  /** Standard deviations by which they agree better in their place than moved away; 0 where there are too few. */
  readonly z: number;
  /** The same for the best of the other ways to lay the board. */
  readonly rivalZ: number;
  readonly rival: Rival["way"] | null;
}

/** How far the motion is moved for comparison, later px: beyond the width of an edge … */
const AWAY_PX = [7, 11, 16];
/** … in so many directions. */
const DIRECTIONS = 12;
/** Another way of lying is not refined: its place is looked for within so many px. */
const RIVAL_REACH_PX = 2;
/** Contrast of a group, root mean square of its band-passed values, at which it counts half, K: three times the noise
 *  and pattern that the band-pass leaves of a pixel of an uncooled array.
 */
const HALF_K = 0.035;
/** More groups than this say nothing new. */
const MOST_GROUPS = 150;
/** Fewer groups than this say nothing. */
const LEAST_GROUPS = 4;

/** Compare the agreement of the inner edges with that of the same motion moved away by some pixels in all directions:
 *  what agrees by chance, or because edges run alike, agrees there too. Then lay the board in other ways.
 */
export function innerEvidence(
  cells: EdgeCells,
  picture: Raster<"K">,
  arm: BoardArm,
  motion: Motion,
  rivals: readonly Rival[],
): InnerEvidence {
  const inner = innerGroups(cells);
  const weights = groupWeights(inner);
  const agreement = (edges: EdgeCells, dx: number, dy: number): number => {
    const [a, b, tx, ty, ...rest] = motion;
    const moved = [a, b, tx + dx, ty + dy, ...rest] as unknown as Motion;
    return meanAlike(seeEdges(edges, picture, arm, moved, false).alike, weights);
  };
  const here = agreement(inner, 0, 0);
  const away = AWAY_PX.flatMap((px) =>
    Array.from({ length: DIRECTIONS }, (_, k) => {
      const angle = (2 * Math.PI * k) / DIRECTIONS;
      return agreement(inner, px * Math.cos(angle), px * Math.sin(angle));
    }),
  ).filter((value) => value * 0 === 0);
  if (!(here * 0 === 0) || away.length < DIRECTIONS) return { z: 0, rivalZ: 0, rival: null };
  const mean = away.reduce((sum, value) => sum + value, 0) / away.length;
  const variance = away.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (away.length - 1);
  const inSigmas = (value: number): number => (value - mean) / Math.sqrt(variance + 1e-12);
  let best = Number.NEGATIVE_INFINITY;
  let rival: Rival["way"] | null = null;
  for (const { way, move } of rivals) {
    const laid = movedCells(inner, move);
    for (let dy = -RIVAL_REACH_PX; dy <= RIVAL_REACH_PX; dy++) {
      for (let dx = -RIVAL_REACH_PX; dx <= RIVAL_REACH_PX; dx++) {
        const value = agreement(laid, dx, dy);
        if (!(value > best)) continue;
        best = value;
        rival = way;
      }
    }
  }
  return { z: inSigmas(here), rivalZ: rival === null ? 0 : inSigmas(best), rival };
}

/** How much the frames are alike over the groups at the outline, the mean squared correlation, 0…1; NaN where too few
 *  are seen.
 */
export function outlineLikeness(cells: EdgeCells, alike: Float32Array): number {
  const weights = groupWeights(cells).map((weight, g) => (cells.inner[g] === 1 ? 0 : weight));
  return meanAlike(alike, weights);
}

/** Groups whose own contrast drowns in noise count for little: they agree with nothing, here and elsewhere. */
function groupWeights({ starts, value }: EdgeCells): Float64Array {
  return Float64Array.from({ length: starts.length - 1 }, (_, g) => {
    let square = 0;
    for (let k = starts[g]!; k < starts[g + 1]!; k++) square += value[k]! ** 2;
    const mean = square / (starts[g + 1]! - starts[g]!);
    return mean / (mean + HALF_K ** 2);
  });
}

function meanAlike(alike: Float32Array, weights: Float64Array): number {
  let sum = 0;
  let total = 0;
  let seen = 0;
  for (let g = 0; g < alike.length; g++) {
    if (!(alike[g]! * 0 === 0)) continue;
    sum += weights[g]! * alike[g]!;
    total += weights[g]!;
    seen++;
  }
  return seen < LEAST_GROUPS ? Number.NaN : sum / total;
}

/** The groups inside the board alone, every so many of them. */
function innerGroups(cells: EdgeCells): EdgeCells {
  const picks: number[] = [];
  const starts = [0];
  const all = cells.inner.reduce((sum, one) => sum + one, 0);
  const every = Math.max(1, all / MOST_GROUPS);
  let seen = 0;
  for (let g = 0; g + 1 < cells.starts.length; g++) {
    if (cells.inner[g] !== 1) continue;
    seen++;
    if (Math.floor(seen / every) === Math.floor((seen - 1) / every)) continue;
    for (let k = cells.starts[g]!; k < cells.starts[g + 1]!; k++) picks.push(k);
    starts.push(picks.length);
  }
  const take = (list: Float32Array) => Float32Array.from(picks, (k) => list[k]!);
  return {
    count: picks.length,
    x: take(cells.x),
    y: take(cells.y),
    value: take(cells.value),
    starts: Int32Array.from(starts),
    inner: new Uint8Array(starts.length - 1).fill(1),
  };
}

function movedCells(cells: EdgeCells, move: Matrix3): EdgeCells {
  const x = new Float32Array(cells.count);
  const y = new Float32Array(cells.count);
  for (let k = 0; k < cells.count; k++) {
    const [px, py] = applyHomography(move, [cells.x[k]!, cells.y[k]!]);
    x[k] = px;
    y[k] = py;
  }
  return { ...cells, x, y };
}
