// tests: heat in named rectangles → the rise on a thin plate, by relaxation on a grid of its own, and what a camera
// shows.
import type { BoardMap, View } from "../../../src/board/board-schema.js";
import { createRaster, type Raster } from "../../../src/core/raster.js";
import { makeRandom } from "../../simulate/random.js";

/** A rectangular board of 40 × 24 mm with five parts; its plate's cooling length is √(0.008/20) m = 20 mm. */
export const BOARD: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  outline: [
    [0, 0],
    [40, 0],
    [40, 24],
    [0, 24],
  ],
  plate: { conductanceWPerK: 0.008, lossWPerM2K: 20 },
  regions: [
    box("U1", 8, 5, 6, 5, "ic"),
    box("U2", 23, 13, 7, 6, "ic"),
    box("C1", 30, 5, 1.6, 0.9, "passive"),
    box("C2", 34, 9, 1.6, 0.9, "passive"),
    box("Q1", 6, 17, 3, 2, "ic"),
  ],
};

function box(
  ref: string,
  x: number,
  y: number,
  width: number,
  height: number,
  kind: "ic" | "passive",
): BoardMap["regions"][number] {
  const polygon: [number, number][] = [
    [x, y],
    [x + width, y],
    [x + width, y + height],
    [x, y + height],
  ];
  return { ref, side: "top", kind, finish: kind === "ic" ? "moulded" : "ceramic", polygon };
}

const PX_PER_MM = 2.7;
const LEFT_PX = 9.3;
const TOP_PX = 14.8;

/** The board lies square in the frame: x′ = 2.7·x + 9.3, y′ = 2.7·y + 14.8. */
export const VIEW: View = {
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width: 128, height: 96 },
  fiducials: BOARD.outline.map((board) => ({
    board,
    pixel: [LEFT_PX + PX_PER_MM * board[0], TOP_PX + PX_PER_MM * board[1]] as [number, number],
  })),
};

/** Emissivities of the board map's finishes, from the tables that its own documentation names. */
const EMISSIVITY = { ic: 0.93, passive: 0.92, board: 0.91 };

/** How much warmer a part's face is than the plate under it, K/W. */
const BODY_K_PER_W = 25;
const CELL_MM = 0.32;

/** A factor on the plate's conductance at a point in board mm. */
export type Copper = (x: number, y: number) => number;
const EVEN: Copper = () => 1;

/** Rise of the plate in cells of 0.32 mm for watts by ref: successive over-relaxation of the five-point equation,
 *  between two cells with the harmonic mean of their conductances. */
export function relaxPlate(
  watts: Readonly<Record<string, number>>,
  copper: Copper = EVEN,
): {
  rise: Float64Array;
  columns: number;
  rows: number;
} {
  const columns = Math.round(40 / CELL_MM);
  const rows = Math.round(24 / CELL_MM);
  const heat = new Float64Array(columns * rows);
  for (const region of BOARD.regions) {
    const power = watts[region.ref] ?? 0;
    if (power === 0) continue;
    const inside: number[] = [];
    for (let i = 0; i < heat.length; i++) {
      if (covers(region, ((i % columns) + 0.5) * CELL_MM, (Math.floor(i / columns) + 0.5) * CELL_MM))
        inside.push(i);
    }
    for (const i of inside) heat[i]! += power / inside.length;
  }
  const rise = new Float64Array(columns * rows);
  if (heat.every((value) => value === 0)) return { rise, columns, rows };
  const { conductanceWPerK, lossWPerM2K } = BOARD.plate as {
    conductanceWPerK: number;
    lossWPerM2K: number;
  };
  const factor = Float64Array.from(heat, (_, i) =>
    copper(((i % columns) + 0.5) * CELL_MM, (Math.floor(i / columns) + 0.5) * CELL_MM),
  );
  const between = (i: number, j: number) =>
    factor[i] === factor[j]
      ? conductanceWPerK * factor[i]!
      : (2 * conductanceWPerK) / (1 / factor[i]! + 1 / factor[j]!);
  const lossPerCell = lossWPerM2K * (CELL_MM * 1e-3) ** 2;
  // With insulated edges the slowest mode is the even one, held by the losses alone: Jacobi's rate is 1 − leak/4k.
  const relaxation = 2 / (1 + Math.sqrt(lossPerCell / (2 * conductanceWPerK)));
  for (let sweep = 0; sweep < 900; sweep++) {
    for (let i = 0; i < rise.length; i++) {
      const x = i % columns;
      let flow = heat[i]!;
      let leak = lossPerCell;
      for (const j of [x > 0 ? i - 1 : -1, x + 1 < columns ? i + 1 : -1, i - columns, i + columns]) {
        if (j < 0 || j >= rise.length) continue;
        const conductance = between(i, j);
        flow += conductance * rise[j]!;
        leak += conductance;
      }
      rise[i]! += relaxation * (flow / leak - rise[i]!);
    }
  }
  return { rise, columns, rows };
}

function covers(region: BoardMap["regions"][number], x: number, y: number): boolean {
  const [low, , high] = region.polygon;
  return x >= low![0] && x < high![0] && y >= low![1] && y < high![1];
}

/** What the camera shows of that rise: finishes, bodies, blur of 1 px and noise.
 *  @param facesK by ref, what a face shows of a room that changed, K.
 *  @param emissivities by ref, of faces that are not as their kind of part is.
 *  @param copper the plate's conductance from place to place.
 */
export function showRise(
  watts: Readonly<Record<string, number>>,
  noiseK: number,
  seed: string,
  facesK: Readonly<Record<string, number>> = {},
  emissivities: Readonly<Record<string, number>> = {},
  copper: Copper = EVEN,
): Raster<"K"> {
  const { width, height } = VIEW.frame;
  const { rise, columns, rows } = relaxPlate(watts, copper);
  const fine = 3;
  const sharp = new Float64Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let k = 0; k < fine * fine; k++) {
        const mmX = (x - 0.5 + ((k % fine) + 0.5) / fine - LEFT_PX) / PX_PER_MM;
        const mmY = (y - 0.5 + (Math.floor(k / fine) + 0.5) / fine - TOP_PX) / PX_PER_MM;
        const c = Math.floor(mmX / CELL_MM);
        const r = Math.floor(mmY / CELL_MM);
        if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
        const part = BOARD.regions.find((region) => covers(region, mmX, mmY));
        const body = part === undefined ? 0 : BODY_K_PER_W * (watts[part.ref] ?? 0);
        const usual = part === undefined ? EMISSIVITY.board : EMISSIVITY[part.kind as "ic" | "passive"];
        const emissivity = emissivities[part?.ref ?? ""] ?? usual;
        sum += emissivity * (rise[r * columns + c]! + body) + (facesK[part?.ref ?? ""] ?? 0);
      }
      sharp[y * width + x] = sum / (fine * fine);
    }
  }
  const random = makeRandom(`rise ${seed}`);
  const blurred = blur(blur(sharp, width, height, 1, width), width, height, width, 1);
  return createRaster(
    "K",
    width,
    height,
    Float32Array.from(blurred, (v) => v + noiseK * random.normal()),
  );
}

/** Gaussian of σ = 1 px along one direction. */
function blur(data: Float64Array, width: number, height: number, step: number, across: number): Float64Array {
  const length = step === 1 ? width : height;
  const lines = step === 1 ? height : width;
  const out = new Float64Array(data.length);
  for (let line = 0; line < lines; line++) {
    for (let k = 0; k < length; k++) {
      let sum = 0;
      let weights = 0;
      for (let d = -5; d <= 5; d++) {
        if (k + d < 0 || k + d >= length) continue;
        const weight = Math.exp(-0.5 * d * d);
        sum += weight * data[line * across + (k + d) * step]!;
        weights += weight;
      }
      out[line * across + k * step] = sum / weights;
    }
  }
  return out;
}
