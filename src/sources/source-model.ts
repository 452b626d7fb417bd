// sources: board, view and frame → for every candidate the columns that its watts show, for any cooling length.
import type { BoardMap, Region } from "../board/board-schema.js";
import type { PlacedView } from "../board/place-view.js";
import type { BoardPoint } from "../core/units.js";
import { type BoardInFrame, seeBoard } from "./board-in-frame.js";
import { emissivityMap } from "./emissivity-map.js";
import { bodyColumn, type HeatFootprint, heatFootprint, plateColumn } from "./heat-columns.js";
import { makePlateGrid, type PlateGrid } from "./plate-grid.js";
import { factorPlate, type PlateSolver } from "./plate-solver.js";

/** Defaults of `SourceModel`. */
export const SOURCE_MODEL_DEFAULTS = Object.freeze({
  /** Loss of both faces together, W/m²K: middle of 8–15 per face (worked textbook board, horizontal and vertical). */
  lossWPerM2K: 20,
  /** Conductance (k·t) where the map does not tell, W/K: middle of the range from one thin copper layer to several
   *  planes. */
  conductanceWPerK: 0.01,
  /** Blur of the optics, px. */
  opticsSigmaPx: 1,
  /** A part's body is at most this much warmer per watt than the plate under it, K/W. */
  maxBodyKPerW: 80,
  /** Radius of a source that no region explains, mm: about a small passive. */
  freeRadiusMm: 0.6,
});

/** A place that may heat: a named region, or a free place that no region explains. */
export interface Candidate {
  /** Index in the board map's regions; −1 for a free place. */
  readonly region: number;
  readonly ref: string | null;
  readonly side: Region["side"];
  readonly normallyWarm: boolean;
  readonly at: BoardPoint;
  readonly footprint: HeatFootprint;
  /** The body's own 1 K in the picture; null on the far side. */
  readonly body: Float32Array | null;
}

/** The plate seen by the camera, able to say what one watt in a candidate shows. */
export class SourceModel {
  readonly grid: PlateGrid;
  readonly seen: BoardInFrame;
  readonly candidates: readonly Candidate[];
  readonly lossWPerM2K: number;
  readonly conductanceWPerK: number;
  private readonly maxBodyKPerW: number;
  private readonly freeRadiusMm: number;
  private readonly view: PlacedView;
  private readonly solvers = new Map<number, PlateSolver>();

  constructor(
    board: BoardMap,
    view: PlacedView,
    width: number,
    height: number,
    centreOf: (region: Region) => BoardPoint,
    options: Partial<typeof SOURCE_MODEL_DEFAULTS> = {},
  ) {
    const o = { ...SOURCE_MODEL_DEFAULTS, ...options };
    this.view = view;
    this.lossWPerM2K = board.plate?.lossWPerM2K ?? o.lossWPerM2K;
    this.conductanceWPerK = board.plate?.conductanceWPerK ?? o.conductanceWPerK;
    this.maxBodyKPerW = o.maxBodyKPerW;
    this.freeRadiusMm = o.freeRadiusMm;
    this.grid = makePlateGrid(board.outline);
    const emissivity = emissivityMap(board, view, width, height);
    this.seen = seeBoard(board, view, this.grid, emissivity, width, height, o.opticsSigmaPx);
    const candidates: Candidate[] = [];
    board.regions.forEach((region, index) => {
      const footprint = heatFootprint(this.grid, region.polygon);
      if (footprint === null) return;
      candidates.push({
        region: index,
        ref: region.ref,
        side: region.side,
        normallyWarm: region.normallyWarm ?? false,
        at: centreOf(region),
        footprint,
        body: bodyColumn(view, this.seen, region),
      });
    });
    this.candidates = candidates;
  }

  /** Make a candidate at a free place on the side in view. Null off the board. */
  freeCandidate(at: BoardPoint): Candidate | null {
    const r = this.freeRadiusMm;
    const polygon = Array.from({ length: 12 }, (_, k) => {
      const angle = (k * Math.PI) / 6;
      return [at[0] + r * Math.cos(angle), at[1] + r * Math.sin(angle)] as const;
    });
    const footprint = heatFootprint(this.grid, polygon);
    if (footprint === null) return null;
    const shape = { side: this.view.side, polygon: polygon.map((p): [number, number] => [p[0], p[1]]) };
    return {
      region: -1,
      ref: null,
      side: this.view.side,
      normallyWarm: false,
      at,
      footprint,
      body: bodyColumn(this.view, this.seen, shape),
    };
  }

  /** One watt in a candidate, K per pixel: through the plate alone, and, for a part in view, with its body at the
   *  most it can be warmer. Every mixture of the two with weights that are not negative is a possible part.
   */
  columns(candidate: Candidate, coolingLengthMm: number): Float32Array[] {
    const plate = plateColumn(
      this.grid,
      this.solver(coolingLengthMm),
      this.seen,
      candidate.footprint,
      this.sinkWPerM2K(coolingLengthMm),
    );
    const { body } = candidate;
    if (body === null) return [plate];
    const warm = plate.map((value, i) => value + this.maxBodyKPerW * body[i]!);
    return [plate, warm];
  }

  /** What takes the heat away, W/m²K: the losses, or, soon after power-on, the board's own warming up, which acts on
   *  the shape of the rise like a larger loss. The conductance does not change meanwhile, so a cooling length
   *  shorter than the steady one tells how much larger.
   */
  sinkWPerM2K(coolingLengthMm: number): number {
    return Math.max(this.lossWPerM2K, this.conductanceWPerK / (coolingLengthMm * 1e-3) ** 2);
  }

  private solver(coolingLengthMm: number): PlateSolver {
    let solver = this.solvers.get(coolingLengthMm);
    if (solver === undefined) {
      solver = factorPlate(this.grid, coolingLengthMm);
      this.solvers.set(coolingLengthMm, solver);
    }
    return solver;
  }
}
