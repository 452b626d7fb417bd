// sources: places that heat on a plate → how the copper around them may differ from even, as independent fields.
import type { BoardPoint } from "../core/units.js";
import { choleskyFactor } from "../numeric/cholesky.js";
import type { PlateGrid } from "./plate-grid.js";

/** Copper of a board: planes, voids and tracks. */
const COPPER = Object.freeze({
  /** Standard deviation of the logarithm of conductance × thickness from place to place: a third (common practice, no
   *  source). */
  spread: 0.35,
  /** The same a distance apart, to 1/e, mm: planes and voids are some millimetres to some centimetres wide. */
  reachMm: 10,
});

/** By which share the watts or the rise of a place differ from those of even copper: copper's spread averaged over what
 *  heat crosses, which counts as the logarithm of the distance, from a part's edge (1 mm) to where heat has spread. By
 *  the figures above that is 0.30 for heat that has spread 5 mm, 0.28 for 8 mm and 0.24 for 20 mm. */
export const UNEVEN_COPPER = 0.3;

/** Distances from a source at which the copper counts, mm, and places on each ring: heat falls as the logarithm of the
 *  distance. */
const RINGS: readonly (readonly [radiusMm: number, places: number])[] = [
  [0, 1],
  [2.5, 5],
  [6, 6],
];
/** Places of two sources nearer to each other than this share of the ring's radius are one; and at the centre this,
 *  mm. */
const SHARED_PLACE = 0.45;
const LEAST_APART_MM = 0.7;
/** How many fields there may be. */
export interface MostFields {
  /** Places around sources. */
  readonly places: number;
  /** … and on a lattice elsewhere. */
  readonly lattice: number;
}
/** Fields where the plate is not told, and where candidates are held against each other: as many as take little time.
 *  Fewer (12 and 2, 6 and 2) turn fewer faults behind the board right. */
export const UNTOLD_FIELDS: MostFields = Object.freeze({ places: 16, lattice: 10 });

/** Elsewhere a lattice: as wide as copper is alike, mm, and wider on a board on which that would be too many places. */
const LATTICE_STEP_MM = 13;

/** Lay out the logarithm of the copper's conductance as a sum of independent fields, each as likely to be taken once as
 *  not at all (standard deviation 1). Together they are the random field with an exponential correlation, as far as the
 *  copper at some places around the sources tells it.
 *  Method: low rank by inducing places (Quiñonero-Candela & Rasmussen 2005, J. Mach. Learn. Res. 6:1939; from memory).
 *  @returns one number for each unknown of the grid; the mean over the board is 0, for that is what a map tells.
 */
export function copperFields(
  grid: PlateGrid,
  sources: readonly BoardPoint[],
  most: MostFields,
): Float64Array[] {
  const places = placesAround(grid, sources, most);
  const n = places.length;
  const between = Float64Array.from({ length: n * n }, (_, k) => {
    const [a, b] = [places[Math.floor(k / n)]!, places[k % n]!];
    return covariance(Math.hypot(a[0] - b[0], a[1] - b[1]));
  });
  const factor = choleskyFactor(between, n, 1e-6);
  if (factor === null) throw new RangeError("places at which copper is told lie on one another");
  const fields: Float64Array[] = [];
  for (let a = 0; a < n; a++) {
    const field = alikeTo(grid, places[a]!);
    for (let b = 0; b < a; b++) subtract(field, fields[b]!, factor[a * n + b]!);
    scale(field, 1 / factor[a * n + a]!);
    fields.push(field);
  }
  for (const field of fields) takeMean(field);
  return fields;
}

// Each of these loops runs some hundred times: as a function of its own it is compiled for the second of them.

/** How much alike the copper is to that at a place, on every cell. */
function alikeTo({ cellOf, columns, stepMm, x0Mm, y0Mm }: PlateGrid, [x, y]: readonly [number, number]) {
  const field = new Float64Array(cellOf.length);
  for (let i = 0; i < field.length; i++) {
    const row = Math.floor(cellOf[i]! / columns);
    const dx = x0Mm + (cellOf[i]! - row * columns) * stepMm - x;
    const dy = y0Mm + row * stepMm - y;
    field[i] = covariance(Math.sqrt(dx * dx + dy * dy));
  }
  return field;
}

function subtract(field: Float64Array, other: Float64Array, share: number): void {
  for (let i = 0; i < field.length; i++) field[i]! -= share * other[i]!;
}

function scale(field: Float64Array, by: number): void {
  for (let i = 0; i < field.length; i++) field[i]! *= by;
}

function takeMean(field: Float64Array): void {
  let sum = 0;
  for (let i = 0; i < field.length; i++) sum += field[i]!;
  const mean = sum / field.length;
  for (let i = 0; i < field.length; i++) field[i]! -= mean;
}

function covariance(distanceMm: number): number {
  return COPPER.spread ** 2 * Math.exp(-distanceMm / COPPER.reachMm);
}

/** Places on the board: on rings around all sources, inner rings first, and on a lattice between them. */
function placesAround(grid: PlateGrid, sources: readonly BoardPoint[], most: MostFields): [number, number][] {
  const places: [number, number][] = [];
  const add = (x: number, y: number, apart: number): void => {
    if (isOn(grid, x, y) && places.every(([u, v]) => Math.hypot(u - x, v - y) >= apart)) places.push([x, y]);
  };
  for (const [radius, count] of RINGS) {
    const apart = Math.max(LEAST_APART_MM, SHARED_PLACE * radius);
    for (const [x0, y0] of sources) {
      for (let k = 0; k < count && places.length < most.places; k++) {
        // Rings are turned against each other, so that their places don't stand in rows.
        const angle = (2 * Math.PI * (k + 0.37 * radius)) / count;
        add(x0 + radius * Math.cos(angle), y0 + radius * Math.sin(angle), apart);
      }
    }
  }
  const { x0Mm, y0Mm, stepMm, columns, rows, cellOf } = grid;
  const step = Math.max(LATTICE_STEP_MM, stepMm * Math.sqrt(cellOf.length / most.lattice));
  const [nx, ny] = [columns, rows].map((cells) => Math.max(1, Math.round((cells * stepMm) / step))) as [
    number,
    number,
  ];
  for (let j = 0; j < ny; j++) {
    for (let i = 0; i < nx; i++) {
      const [u, v] = [((i + 0.5) / nx) * columns - 0.5, ((j + 0.5) / ny) * rows - 0.5];
      add(x0Mm + u * stepMm, y0Mm + v * stepMm, 0.5 * step);
    }
  }
  return places;
}

function isOn({ x0Mm, y0Mm, stepMm, columns, rows, unknownOf }: PlateGrid, x: number, y: number): boolean {
  const column = Math.round((x - x0Mm) / stepMm);
  const row = Math.round((y - y0Mm) / stepMm);
  return column >= 0 && row >= 0 && column < columns && row < rows && unknownOf[row * columns + column]! >= 0;
}
