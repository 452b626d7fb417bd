// report: values on a grid and a level → closed rings around what reaches the level.

/** Values on a grid, row-major; NaN and what lies beyond the edge count as below every level. */
export interface GridField {
  readonly width: number;
  readonly height: number;
  readonly data: Float32Array;
}

/** Trace where a field reaches a level, between grid points by straight lines.
 *  Method: marching squares (Lorensen & Cline 1987 in two dimensions); a saddle is parted by the mean of its corners.
 *  @returns closed rings in grid coordinates; filled by the even-odd rule they cover what is at or above the level.
 */
export function contourRings(field: GridField, level: number): [number, number][][] {
  const next = new Map<number, number[]>();
  const { width, height } = field;
  for (let y = -1; y < height; y++) {
    for (let x = -1; x < width; x++) addCell(field, level, x, y, next);
  }
  return linkRings(next, (edge) => edgePoint(field, level, edge));
}

/** Edges are numbered by the grid point at their left or upper end, over a grid with a rim of one point. */
function edgeNumber(width: number, x: number, y: number, down: boolean): number {
  return 2 * ((y + 1) * (width + 2) + x + 1) + (down ? 1 : 0);
}

function valueAt({ width, height, data }: GridField, x: number, y: number): number {
  if (x < 0 || y < 0 || x >= width || y >= height) return Number.NEGATIVE_INFINITY;
  const value = data[y * width + x]!;
  return Number.isNaN(value) ? Number.NEGATIVE_INFINITY : value;
}

/** Lines through one cell, each with what is inside on its left hand as y points down. */
function addCell(field: GridField, level: number, x: number, y: number, next: Map<number, number[]>): void {
  const a = valueAt(field, x, y);
  const b = valueAt(field, x + 1, y);
  const c = valueAt(field, x + 1, y + 1);
  const d = valueAt(field, x, y + 1);
  const mask = (a >= level ? 1 : 0) | (b >= level ? 2 : 0) | (c >= level ? 4 : 0) | (d >= level ? 8 : 0);
  if (mask === 0 || mask === 15) return;
  const top = edgeNumber(field.width, x, y, false);
  const right = edgeNumber(field.width, x + 1, y, true);
  const bottom = edgeNumber(field.width, x, y + 1, false);
  const left = edgeNumber(field.width, x, y, true);
  const joined = (a + b + c + d) / 4 >= level;
  for (const [from, to] of cellLines(mask, joined, top, right, bottom, left)) {
    const known = next.get(from);
    if (known === undefined) next.set(from, [to]);
    else known.push(to);
  }
}

function cellLines(
  mask: number,
  joined: boolean,
  top: number,
  right: number,
  bottom: number,
  left: number,
): [number, number][] {
  switch (mask) {
    case 1:
      return [[left, top]];
    case 2:
      return [[top, right]];
    case 3:
      return [[left, right]];
    case 4:
      return [[right, bottom]];
    case 6:
      return [[top, bottom]];
    case 7:
      return [[left, bottom]];
    case 8:
      return [[bottom, left]];
    case 9:
      return [[bottom, top]];
    case 11:
      return [[bottom, right]];
    case 12:
      return [[right, left]];
    case 13:
      return [[right, top]];
    case 14:
      return [[top, left]];
    case 5:
      return joined
        ? [
            [left, bottom],
            [right, top],
          ]
        : [
            [left, top],
            [right, bottom],
          ];
    default:
      return joined
        ? [
            [top, left],
            [bottom, right],
          ]
        : [
            [top, right],
            [bottom, left],
          ];
  }
}

function edgePoint(field: GridField, level: number, edge: number): [number, number] {
  const down = edge % 2 === 1;
  const index = (edge - (down ? 1 : 0)) / 2;
  const x = (index % (field.width + 2)) - 1;
  const y = Math.floor(index / (field.width + 2)) - 1;
  const from = valueAt(field, x, y);
  const to = down ? valueAt(field, x, y + 1) : valueAt(field, x + 1, y);
  // Beside a missing value the line runs through the grid point that has one.
  const share =
    from === Number.NEGATIVE_INFINITY
      ? 1
      : to === Number.NEGATIVE_INFINITY
        ? 0
        : (level - from) / (to - from);
  return down ? [x, y + share] : [x + share, y];
}

function linkRings(
  next: Map<number, number[]>,
  place: (edge: number) => [number, number],
): [number, number][][] {
  const rings: [number, number][][] = [];
  for (const first of next.keys()) {
    for (let to = next.get(first)?.pop(); to !== undefined; to = next.get(first)?.pop()) {
      const ring = [place(first)];
      for (let at = to; at !== first; ) {
        ring.push(place(at));
        const onward = next.get(at)?.pop();
        if (onward === undefined) break;
        at = onward;
      }
      if (ring.length > 2) rings.push(ring);
    }
  }
  return rings;
}
