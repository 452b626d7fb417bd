// sources: board, view and frame → for every candidate the columns that its watts show, for any cooling length.
import type { BoardMap, Region } from "../board/board-schema.js";
import { BOARD_FINISH, emissivityOf, FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import { type Polygon, pointInPolygon, signedArea } from "../board/polygon.js";
import type { BoardPoint } from "../core/units.js";
import { type BoardInFrame, seeBoard } from "./board-in-frame.js";
import { emissivityMap } from "./emissivity-map.js";
import { bodyColumn, type HeatFootprint, heatFootprint, plateColumn } from "./heat-columns.js";
import { mirrorShapes } from "./mirror-shapes.js";
import { makePlateGrid, type PlateGrid } from "./plate-grid.js";
import { factorPlate, type PlateSolver } from "./plate-solver.js";

/** Options of `SourceModel`. */
export interface SourceModelOptions {
  readonly lossWPerM2K: number;
  readonly conductanceWPerK: number;
  readonly opticsSigmaPx: number;
  readonly maxBodyKPerW: number;
  readonly maxBodyKMm2PerW: number;
  readonly plateDoubt: number;
  readonly freeRadiusMm: number;
  readonly shinyEmissivity: number;
}

/** Defaults of `SourceModel`. */
export const SOURCE_MODEL_DEFAULTS: SourceModelOptions = Object.freeze({
  /** Loss of both faces together, W/m²K: middle of 8–15 per face (worked textbook board, horizontal and vertical). */
  lossWPerM2K: 20,
  /** Conductance (k·t) where the map does not tell, W/K: middle of the range from one thin copper layer to several
   *  planes. */
  conductanceWPerK: 0.01,
  /** Blur of the optics, px. */
  opticsSigmaPx: 1,
  /** A part's body is at most this much warmer per watt than the plate under it, K/W: a small part on its joints … */
  maxBodyKPerW: 80,
  /** … and a large one as through some 2 mm of moulding compound (0.8 W/mK) over its area, K·mm²/W. */
  maxBodyKMm2PerW: 2500,
  /** Where the conductance is not known it may be several times the assumed one, and the plate as much cooler for the same
   *  body. */
  plateDoubt: 3,
  /** Radius of a source that no region explains, mm: about a small passive. */
  freeRadiusMm: 0.6,
  /** Finishes below this emissivity show the room rather than a small rise of their own. */
  shinyEmissivity: 0.5,
});

/** What a candidate is taken to do: heat (plate and body), heat through the plate alone whatever its body shows, or
 *  mirror the room, with no heat at all. */
export type CandidateKind = "heat" | "plate" | "mirror";

/** A place that may heat: a named region, or a free place that no region explains. */
export interface Candidate {
  readonly kind: CandidateKind;
  /** Index in the board map's regions; −1 for a free place. */
  readonly region: number;
  readonly ref: string | null;
  readonly side: Region["side"];
  readonly normallyWarm: boolean;
  readonly at: BoardPoint;
  readonly polygon: Polygon;
  readonly footprint: HeatFootprint;
  /** Finish stated in the map: it is known whether the part mirrors. */
  readonly finishKnown: boolean;
  readonly emissivity: number;
  /** How much warmer than the plate under it the body can be, K/W. */
  readonly maxBodyKPerW: number;
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
  /** True where the map states the conductance. */
  readonly plateKnown: boolean;
  private readonly maxBodyKPerW: number;
  private readonly freeRadiusMm: number;
  private readonly view: PlacedView;
  private readonly outline: Polygon;
  private readonly made = new Map<Candidate, Map<number, Float32Array[]>>();
  private readonly solvers = new Map<number, PlateSolver>();

  constructor(
    board: BoardMap,
    view: PlacedView,
    width: number,
    height: number,
    centreOf: (region: Region) => BoardPoint,
    options: Partial<SourceModelOptions> = {},
  ) {
    const o = { ...SOURCE_MODEL_DEFAULTS, ...options };
    this.view = view;
    this.outline = board.outline;
    this.lossWPerM2K = board.plate?.lossWPerM2K ?? o.lossWPerM2K;
    this.conductanceWPerK = board.plate?.conductanceWPerK ?? o.conductanceWPerK;
    this.plateKnown = board.plate?.conductanceWPerK !== undefined;
    const plateDoubt = this.plateKnown ? 1 : o.plateDoubt;
    this.maxBodyKPerW = plateDoubt * o.maxBodyKPerW;
    this.freeRadiusMm = o.freeRadiusMm;
    this.grid = makePlateGrid(board.outline);
    const emissivity = emissivityMap(board, view, width, height);
    this.seen = seeBoard(board, view, this.grid, emissivity, width, height, o.opticsSigmaPx);
    const candidates: Candidate[] = [];
    board.regions.forEach((region, index) => {
      const footprint = heatFootprint(this.grid, region.polygon);
      if (footprint === null) return;
      candidates.push({
        kind: "heat",
        region: index,
        ref: region.ref,
        side: region.side,
        normallyWarm: region.normallyWarm ?? false,
        at: centreOf(region),
        polygon: region.polygon,
        footprint,
        emissivity: emissivityOf(region),
        maxBodyKPerW:
          plateDoubt * Math.min(o.maxBodyKPerW, o.maxBodyKMm2PerW / Math.abs(signedArea(region.polygon))),
        finishKnown: region.finish !== undefined || region.emissivity !== undefined,
        // A shiny face shows the room: its own warmth can't be read off it.
        body: emissivityOf(region) < o.shinyEmissivity ? null : bodyColumn(view, this.seen, region),
      });
    });
    this.candidates = candidates;
  }

  /** Make a candidate at a free place on the side in view. Null off the board. */
  freeCandidate(at: BoardPoint): Candidate | null {
    if (!pointInPolygon(this.outline, at)) return null;
    const r = this.freeRadiusMm;
    const polygon = Array.from({ length: 12 }, (_, k) => {
      const angle = (k * Math.PI) / 6;
      return [at[0] + r * Math.cos(angle), at[1] + r * Math.sin(angle)] as const;
    });
    const footprint = heatFootprint(this.grid, polygon);
    if (footprint === null) return null;
    const shape = { side: this.view.side, polygon: polygon.map((p): [number, number] => [p[0], p[1]]) };
    return {
      kind: "heat",
      region: -1,
      ref: null,
      side: this.view.side,
      normallyWarm: false,
      at,
      polygon,
      footprint,
      finishKnown: false,
      emissivity: FINISH_EMISSIVITY[BOARD_FINISH].emissivity,
      maxBodyKPerW: this.maxBodyKPerW,
      body: bodyColumn(this.view, this.seen, shape),
    };
  }

  /** The columns of a candidate. For heat they are one watt's rise, K per pixel: through the plate alone, and, for a part in view, with its body at the
   *  most it can be warmer; every mixture of the two with weights that are not negative is a possible part. For a
   *  mirror they are any smooth change over its face, of either sign.
   */
  columns(candidate: Candidate, coolingLengthMm: number): Float32Array[] {
    const known = this.made.get(candidate) ?? new Map<number, Float32Array[]>();
    this.made.set(candidate, known);
    // A mirror does not care how far heat spreads.
    const key = candidate.kind === "mirror" ? 0 : coolingLengthMm;
    const columns = known.get(key) ?? this.makeColumns(candidate, coolingLengthMm);
    known.set(key, columns);
    return columns;
  }

  private makeColumns(candidate: Candidate, coolingLengthMm: number): Float32Array[] {
    if (candidate.kind === "mirror") return this.mirrorColumns(candidate);
    const plate = plateColumn(
      this.grid,
      this.solver(coolingLengthMm),
      this.seen,
      candidate.footprint,
      this.sinkWPerM2K(coolingLengthMm),
    );
    const { body } = candidate;
    if (body === null || candidate.kind === "plate") return [plate];
    const warm = plate.map((value, i) => value + candidate.maxBodyKPerW * body[i]!);
    return [plate, warm];
  }

  private mirrorColumns({ polygon }: Candidate): Float32Array[] {
    const { width, height, opticsSigmaPx } = this.seen;
    return mirrorShapes(this.view, polygon, width, height, opticsSigmaPx);
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
