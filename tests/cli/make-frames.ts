// Small made-up frames, board and view for the tests of the command.
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";

export const FRAME = Object.freeze({ width: 64, height: 48, pxPerMm: 2, originPx: [6, 5] as const });
/** Where the spot of the powered frames is, px, and how hot, K. */
export const SPOT = Object.freeze({ x: 41.5, y: 17.25, sigmaPx: 3, peakK: 2.4 });

/** Make a folder for a test and the function that removes it. */
export async function makeFolder(): Promise<{ folder: string; remove: () => Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), "faultglow-cli-"));
  return { folder, remove: () => rm(folder, { recursive: true }) };
}

/** Temperatures of a board with a few parts, noise of 30 mK, and a spot if powered. */
export function makeFrame(
  seed: number,
  peakK: number,
  width: number = FRAME.width,
  height: number = FRAME.height,
): number[][] {
  const random = makeRandom(seed);
  const parts = [
    [10, 9, 12, 8, 0.9],
    [30, 27, 9, 11, -0.8],
    [47, 8, 8, 9, 0.6],
    [12, 28, 7, 6, 1.2],
  ] as const;
  const rows: number[][] = [];
  for (let y = 0; y < height; y++) {
    const row: number[] = [];
    for (let x = 0; x < width; x++) {
      let value = x > 5 && x < 58 && y > 4 && y < 43 ? 24 : 22;
      for (const [left, top, w, h, stepK] of parts) {
        if (x >= left && x < left + w && y >= top && y < top + h) value += stepK;
      }
      const spot = peakK * Math.exp(-((x - SPOT.x) ** 2 + (y - SPOT.y) ** 2) / (2 * SPOT.sigmaPx ** 2));
      // The sum of four uniform numbers, spread 0.577, is near enough to a normal one.
      const noise = random() + random() + random() + random() - 2;
      row.push(value + spot + 0.052 * noise);
    }
    rows.push(row);
  }
  return rows;
}

export async function writeCsv(file: string, rows: readonly (readonly number[])[]): Promise<void> {
  await writeFile(file, `${rows.map((row) => row.map((value) => value.toFixed(3)).join(",")).join("\n")}\n`);
}

/** A board map whose part U5 lies under the spot and C2 elsewhere. */
export function makeBoard(): object {
  const toMm = (px: number, axis: 0 | 1): number => (px - FRAME.originPx[axis]) / FRAME.pxPerMm;
  const [x, y] = [toMm(SPOT.x, 0), toMm(SPOT.y, 1)];
  const box = (left: number, top: number, w: number, h: number): number[][] => [
    [left, top],
    [left + w, top],
    [left + w, top + h],
    [left, top + h],
  ];
  return {
    kind: "faultglow/board",
    version: 1,
    name: "test board",
    outline: box(0, 0, 26, 18.5),
    regions: [
      { ref: "U5", side: "top", polygon: box(x - 1.5, y - 1, 3, 2), finish: "moulded" },
      { ref: "C2", side: "top", polygon: box(4, 13, 2, 1), finish: "ceramic" },
    ],
  };
}

export function makeView(): object {
  const { originPx, pxPerMm, width, height } = FRAME;
  const corners = [
    [0, 0],
    [26, 0],
    [26, 18.5],
    [0, 18.5],
  ] as const;
  return {
    kind: "faultglow/view",
    version: 1,
    side: "top",
    frame: { width, height },
    fiducials: corners.map(([x, y]) => ({
      board: [x, y],
      pixel: [x * pxPerMm + originPx[0], y * pxPerMm + originPx[1]],
    })),
  };
}

/** The board turned over, so that x runs the other way: mirrored frames, and the view that belongs to them. */
export function turnOver(rows: readonly (readonly number[])[]): number[][] {
  return rows.map((row) => [...row].reverse());
}

export function makeViewBelow(): object {
  const { fiducials, ...rest } = makeView() as { fiducials: { board: number[]; pixel: number[] }[] };
  return {
    ...rest,
    side: "bottom",
    fiducials: fiducials.map(({ board, pixel: [x, y] }) => ({ board, pixel: [FRAME.width - 1 - x!, y] })),
  };
}

/** mulberry32 by Tommy Ettinger (public domain), from memory: any even generator will do here. */
export function makeRandom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = state;
    t = Math.imul(t ^ (t >>> 15), t | 1);
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61);
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}
