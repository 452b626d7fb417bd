// A board, its heat and what it mirrors, in closed form: what a scene adds to an empty frame. Its physics shares
// nothing with `src`.
import { parseBoardMap } from "../../src/board/parse-board-map.js";
import { parseView } from "../../src/board/parse-view.js";

/** Pixels of a window that is cut out of the real frames, and of a millimetre; where the board's corner lies in it,
 *  px. */
export const [WIDE, HIGH, SCALE, LEFT, ABOVE] = [160, 120, 2.6, 13, 15] as const;
const [BOARD_WIDE, BOARD_HIGH] = [52, 34] as const;
/** Gaussian blur of lens and pixel, px. */
const BLUR = 0.8;
/** Widths of heat of different ages that a hill is made of. */
const AGES = 16;

/** Centre and size, mm; what it differs from the board by when idle, K; share of the room that it mirrors. */
type Part = readonly [
  ref: string,
  x: number,
  y: number,
  w: number,
  h: number,
  idleK: number,
  mirrors: number,
];
export const PARTS: readonly Part[] = [
  ["U1", 13, 11, 9, 9, 0.15, 0.07],
  ["U2", 39, 9, 5, 4, 0.12, 0.07],
  ["U3", 28, 25, 4, 3, -0.1, 0.07],
  ["SH1", 43, 25, 9, 8, -1.3, 0.87],
  ["J1", 9, 29, 7, 3, -0.9, 0.87],
  ["C1", 24, 7, 1.6, 0.8, 0.2, 0.08],
  ["C2", 27, 12, 1, 0.5, 0.2, 0.08],
  ["C3", 31, 7, 2, 1.25, 0.2, 0.08],
  ["L1", 22, 17, 3, 2.5, -0.15, 0.08],
  ["Q1", 34, 17, 2, 2, 0.1, 0.07],
];

export const { board } = parseBoardMap(
  {
    kind: "faultglow/board",
    version: 1,
    outline: corners(0, 0, BOARD_WIDE, BOARD_HIGH),
    regions: PARTS.map(([ref, x, y, w, h, , mirrors]) => ({
      ref,
      side: "top",
      polygon: corners(x - w / 2, y - h / 2, x + w / 2, y + h / 2),
      finish:
        mirrors > 0.5 ? "bare-metal" : ref.startsWith("C") || ref.startsWith("L") ? "ceramic" : "moulded",
    })),
  },
  "board.json",
);
export const { view } = parseView(
  {
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width: WIDE, height: HIGH },
    // Picked by hand: beside the corners by a fifth of a pixel.
    fiducials: corners(0, 0, BOARD_WIDE, BOARD_HIGH).map(([x, y], k) => ({
      board: [x, y],
      pixel: [LEFT + SCALE * x + [0.2, -0.1, 0.1, -0.2][k]!, ABOVE + SCALE * y + [-0.1, 0.2, 0.15, -0.2][k]!],
    })),
  },
  "view.json",
);

function corners(x0: number, y0: number, x1: number, y1: number): [number, number][] {
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

/** What a scene adds to the sensor's own picture. Lengths in mm, the nudge in px. */
export interface SceneOf {
  readonly nudge: readonly [dx: number, dy: number];
  /** Rise of the room that everything mirrors, K, by part. */
  readonly roomK: (ref: string) => number;
  readonly hot: {
    readonly part: Part;
    readonly hillK: number;
    readonly bodyK: number;
    readonly spreadMm: number;
  } | null;
}

/** Normal distribution's integral (Abramowitz & Stegun 1964, 7.1.26: exact to 1.5e-7). */
function normalTo(z: number): number {
  const t = 1 / (1 + (0.3275911 * Math.abs(z)) / Math.SQRT2);
  const tail =
    t *
    (0.254829592 + t * (-0.284496736 + t * (1.421413741 + t * (-1.453152027 + t * 1.061405429)))) *
    Math.exp((-z * z) / 2);
  return z < 0 ? tail / 2 : 1 - tail / 2;
}

/** A bar of height 1 from a to b, blurred, px. */
const bar = (at: number, a: number, b: number) => normalTo((at - a) / BLUR) - normalTo((at - b) / BLUR);

/** Along one axis: heat of a Gaussian that an insulated edge throws back at both ends (images; Carslaw & Jaeger 1959,
 *  §10.10, from memory). */
function mirroredGaussian(mm: number, centre: number, end: number, spread: number): number {
  let sum = 0;
  for (const image of [centre, -centre, 2 * end - centre])
    sum += Math.exp(-((mm - image) ** 2) / (2 * spread ** 2));
  return sum / spread;
}

/** Draw it, K above the table, WIDE × HIGH pixels. */
export function scenePicture({ nudge: [dx, dy], roomK, hot }: SceneOf): Float64Array {
  const out = new Float64Array(WIDE * HIGH);
  const [x0, y0] = [LEFT + dx, ABOVE + dy];
  const put = (a: number, b: number, c: number, d: number, valueAt: (i: number) => number): void => {
    const across = Array.from({ length: WIDE }, (_, x) => bar(x, x0 + SCALE * a, x0 + SCALE * b));
    for (let y = 0, i = 0; y < HIGH; y++) {
      const down = bar(y, y0 + SCALE * c, y0 + SCALE * d);
      for (let x = 0; x < WIDE; x++, i++) {
        const share = down * across[x]!;
        if (share > 1e-4) out[i]! += share * valueAt(i);
      }
    }
  };
  // An idle board is 1.2 K warmer than the table; its mask mirrors a tenth of what the room changed by.
  put(0, BOARD_WIDE, 0, BOARD_HIGH, () => 1.2 + 0.09 * roomK(""));
  for (const [ref, x, y, w, h, idleK, mirrors] of PARTS) {
    const own = idleK + (mirrors - 0.09) * roomK(ref);
    put(x - w / 2, x + w / 2, y - h / 2, y + h / 2, () => own);
  }
  if (hot === null) return out;
  const { part, hillK, bodyK, spreadMm } = hot;
  const [, cx, cy, w, h] = part;
  // A source of constant power on a thin plate: Gaussians of all ages, each as wide as heat has come since, of equal
  // heat (Carslaw & Jaeger 1959, §10.4, from memory); the youngest is as wide as the part. Even steps of width are
  // steps of time that grow as the width.
  const first = Math.hypot(0.3 * Math.min(w, h), BLUR / SCALE);
  const hill = new Float64Array(WIDE * HIGH);
  for (let k = 0.5; k < AGES; k++) {
    const spread = Math.hypot(first, (spreadMm * k) / AGES);
    const across = Array.from({ length: WIDE }, (_, x) =>
      mirroredGaussian((x - x0) / SCALE, cx, BOARD_WIDE, spread),
    );
    for (let y = 0, i = 0; y < HIGH; y++) {
      const down = k * mirroredGaussian((y - y0) / SCALE, cy, BOARD_HIGH, spread);
      for (let x = 0; x < WIDE; x++, i++) hill[i]! += down * across[x]!;
    }
  }
  const unit = hillK / Math.max(...hill);
  put(0, BOARD_WIDE, 0, BOARD_HIGH, (i) => 0.91 * unit * hill[i]!);
  for (const [, x, y, a, b, , mirrors] of PARTS) {
    if (mirrors > 0.5)
      put(x - a / 2, x + a / 2, y - b / 2, y + b / 2, (i) => (0.09 - mirrors) * unit * hill[i]!);
  }
  put(cx - w / 2, cx + w / 2, cy - h / 2, cy + h / 2, () => 0.92 * bodyK);
  return out;
}
