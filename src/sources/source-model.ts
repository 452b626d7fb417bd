// sources: board, views and frames' sizes → for every candidate the columns that its watts show, in any state of the
// plate.
import type { BoardMap, Region } from "../board/board-schema.js";
import { BOARD_FINISH, emissivityOf, FINISH_EMISSIVITY, SHINY_EMISSIVITY } from "../board/emissivity.js";
import { type Polygon, pointInPolygon, signedArea } from "../board/polygon.js";
import type { OptionsOf } from "../core/options.js";
import type { BoardPoint } from "../core/units.js";
import { AlternatingPlate, isAlternating } from "./alternating-plate.js";
import { seeBoard } from "./board-in-frame.js";
import { bodyColumn } from "./body-column.js";
import { type Column, joinColumns } from "./column.js";
import { CopperColumns } from "./copper-columns.js";
import { emissivityMap } from "./emissivity-map.js";
import { faceContrast } from "./face-contrast.js";
import { BESIDE_SHARE } from "./face-k-per-w.js";
import { type HeatFootprint, heatFootprint } from "./heat-footprint.js";
import { faceShapes, mirrorShapes } from "./mirror-shapes.js";
import type { ChangedFace } from "./patch-face.js";
import { boardPixels, type Picture, type PictureInput } from "./picture.js";
import { PLATE_CAPACITY } from "./plate-capacity.js";
import { PlateColumns, type PlateSteps } from "./plate-columns.js";
import { PlateConstants } from "./plate-constants.js";
import { makePlateGrid, type PlateGrid } from "./plate-grid.js";
import {
  FIRST_STATE,
  LONG_RISING_STATES,
  PLATE_STATES,
  type PlateState,
  stepsTo,
  timedStates,
} from "./plate-state.js";
import { shinyByLetters, shinyFromBaseline } from "./shiny-chance.js";

/** Defaults of `SourceModel`. */
export const SOURCE_MODEL_DEFAULTS = Object.freeze({
  /** Loss of both faces together, W/m²K: that of a board of 100 mm which stands and is 10 K warmer than a room of 22
   *  °C. A face radiates 4·0.91·σT³ = 5.6 and gives 1.42·(ΔT/L)^¼ = 4.5 to the air (laminar natural convection, SI
   *  units; handbook relation, as reproduced). By 3 to 30 K, 50 to 200 mm, standing or lying free (1.32 above, 0.59
   *  below) it is 14 to 26; on its back 8 to 13. */
  lossWPerM2K: 20,
  /** Conductance (k·t) where the map does not tell, W/K: geometric mean of the test boards of JESD51-3 and JESD51-7
   *  (1.6 mm; one layer of 70 µm at a fifth, 0.0059; two such and two planes of 35 µm, 0.038), their layers in
   *  parallel: copper 390, laminate 0.3 W/mK. Thicknesses as the sister standards JESD51-10 and JESD51-11 state them,
   *  too; the fifth from memory. */
  conductanceWPerK: 0.015,
  ...PLATE_CAPACITY,
  /** The rise is that of one known time, not weighed over a burst. */
  oneTime: false,
  /** The supply goes on and off, s for both together; null where it is constant. */
  periodS: null as number | null,
  /** A part's body is at most this much warmer per watt than the plate under it, K/W: a small part on its joints … */
  maxBodyKPerW: 80,
  /** … and a large one as through some 2 mm of moulding compound (0.8 W/mK) over its area, K·mm²/W. The thirteen
   *  data-sheet values named in heat-or-mirror.ts reach 0.8 of the smaller of both at most. */
  maxBodyKMm2PerW: 2500,
  /** Where the conductance is not known it may be several times the assumed one, and the plate as much cooler for the
   *  same body: by 1.2 of the spreads of 0.9 that the test boards show. */
  plateDoubt: 3,
  /** Radius of a source that no region explains, mm: about a small passive. */
  freeRadiusMm: 0.6,
  /** Finishes below this emissivity show the room rather than a small rise of their own. */
  shinyEmissivity: SHINY_EMISSIVITY,
  /** Chance that a place no region names mirrors: what maps leave out is pads and solder. A judgement. */
  shinyFree: 0.6,
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
  /** Chance that its face is a mirror though the map does not say so. */
  readonly shinyChance: number;
  readonly emissivity: number;
  /** How much warmer than the plate under it the body can be, K/W. */
  readonly maxBodyKPerW: number;
  /** Where a free place's change is seen: the face that would mirror it; null for parts, whose face is their
   *  polygon. */
  readonly face: ChangedFace | null;
  /** Step of the face where it is taken for a mirror, K, to which its halo and the like are bound; free if not
   *  given. */
  readonly mirrorStepK?: number;
  /** The body's own 1 K in the pictures; null where none shows it, or only a mirror. */
  readonly body: Column | null;
}

/** The plate seen by the camera, able to say what one watt in a candidate shows. */
export class SourceModel {
  readonly grid: PlateGrid;
  readonly pictures: readonly Picture[];
  /** Pixels of all pictures. */
  readonly size: number;
  /** Those on the board, ascending: what plate columns cover. */
  private readonly boardAt: Int32Array;
  readonly candidates: readonly Candidate[];
  /** What is known of the plate. */
  readonly plate: PlateConstants;
  private readonly maxBodyKPerW: number;
  /** By how much warmer bodies may be than they are against the plate as it is assumed. */
  readonly plateDoubt: number;
  private readonly freeRadiusMm: number;
  /** States of the plate that are tried, and the one to begin with. */
  readonly states: readonly PlateState[];
  readonly firstState: PlateState;
  /** Those that watts are weighed over. */
  readonly powerStates: readonly PlateState[];
  /** The plate where the supply goes on and off; null where it is constant. */
  readonly alternating: AlternatingPlate | null;
  readonly oneTime: boolean;
  private readonly shinyFree: number;
  readonly outline: Polygon;
  private readonly plates = new Map<HeatFootprint, Map<PlateState, Column>>();
  private readonly mirrors = new Map<HeatFootprint, readonly Column[]>();
  private readonly plateColumns: PlateColumns;
  private copperColumns: CopperColumns | null = null;

  /** @param pictures what is fitted together: views of one board at one time, of either side.
   *  @param timeS time since power-on that the rise belongs to, s; null where it is not known.
   */
  constructor(
    board: BoardMap,
    pictures: readonly PictureInput[],
    centreOf: (region: Region) => BoardPoint,
    timeS: number | null = null,
    options: OptionsOf<typeof SOURCE_MODEL_DEFAULTS> = {},
  ) {
    const o = { ...SOURCE_MODEL_DEFAULTS, ...options };
    this.outline = board.outline;
    this.plate = new PlateConstants(board, timeS, o);
    this.plateDoubt = this.plate.conductanceKnown ? 1 : o.plateDoubt;
    this.maxBodyKPerW = this.plateDoubt * o.maxBodyKPerW;
    this.freeRadiusMm = o.freeRadiusMm;
    this.oneTime = o.oneTime;
    this.shinyFree = o.shinyFree;
    this.grid = makePlateGrid(board.outline);
    let offset = 0;
    this.pictures = pictures.map((input): Picture => {
      const { view, width, height, opticsSigmaPx, scene } = input;
      const emissivity = emissivityMap(board, view, width, height);
      const seen = seeBoard(board, view, this.grid, emissivity, width, height, opticsSigmaPx);
      const at = offset === 0 ? seen.pixels : seen.pixels.map((pixel) => offset + pixel);
      const picture = { view, seen, scene, offset, at };
      offset += width * height;
      return picture;
    });
    this.size = offset;
    this.boardAt = boardPixels(this.pictures);
    this.plateColumns = new PlateColumns(this.grid, this.pictures);
    this.alternating = o.periodS === null ? null : this.alternate(o.periodS);
    const timed = this.plate.conductanceKnown && board.plate?.lossWPerM2K !== undefined;
    this.states = this.alternating?.states ?? (timed ? timedStates(this.plate.restMm) : PLATE_STATES);
    this.powerStates = this.states === PLATE_STATES ? [...PLATE_STATES, ...LONG_RISING_STATES] : this.states;
    this.firstState =
      this.alternating?.firstState ??
      (timed
        ? this.states.reduce((best, state) => (this.penaltyOf(state) < this.penaltyOf(best) ? state : best))
        : FIRST_STATE);
    this.candidates = board.regions.flatMap((region, index): Candidate[] => {
      const footprint = heatFootprint(this.grid, region.polygon);
      if (footprint === null) return [];
      const emissivity = emissivityOf(region);
      const told = region.finish !== undefined || region.emissivity !== undefined;
      const areaMm2 = Math.abs(signedArea(region.polygon));
      return [
        {
          kind: "heat",
          region: index,
          ref: region.ref,
          side: region.side,
          normallyWarm: region.normallyWarm ?? false,
          at: centreOf(region),
          polygon: region.polygon,
          footprint,
          emissivity,
          maxBodyKPerW: this.plateDoubt * Math.min(o.maxBodyKPerW, o.maxBodyKMm2PerW / areaMm2),
          shinyChance: told ? 0 : this.shinyChance(shinyByLetters(region.ref), region),
          face: null,
          // A shiny face shows the room: its own warmth can't be read off it.
          body: emissivity < o.shinyEmissivity ? null : this.bodyOf(region),
        },
      ];
    });
  }

  /** 1 = some of the face of a named part is seen there, in any picture, or of a place that heats. */
  onFaces(places: readonly Candidate[]): Uint8Array {
    const out = new Uint8Array(this.size);
    for (const { face } of places) {
      if (face === null) continue;
      const { seen, offset } = this.pictures[face.picture]!;
      const { x0, y0, width, height } = face.window;
      for (let y = y0; y < y0 + height; y++) {
        out.fill(1, offset + y * seen.width + x0, offset + y * seen.width + x0 + width);
      }
    }
    for (const { body } of this.candidates) {
      if (body === null || body.at === null) continue;
      body.at.forEach((pixel, k) => {
        if (body.values[k]! >= BESIDE_SHARE) out[pixel] = 1;
      });
    }
    return out;
  }

  /** Make a candidate at a free place. Null off the board.
   *  @param face where its change is seen.
   */
  freeCandidate(at: BoardPoint, face: ChangedFace): Candidate | null {
    const { side } = this.pictures[face.picture]!.view;
    if (!pointInPolygon(this.outline, at)) return null;
    const r = this.freeRadiusMm;
    const polygon = Array.from({ length: 12 }, (_, k): [number, number] => {
      const angle = (k * Math.PI) / 6;
      return [at[0] + r * Math.cos(angle), at[1] + r * Math.sin(angle)];
    });
    const footprint = heatFootprint(this.grid, polygon);
    if (footprint === null) return null;
    return {
      kind: "heat",
      region: -1,
      ref: null,
      side,
      normallyWarm: false,
      at,
      polygon,
      footprint,
      shinyChance: this.shinyChance(this.shinyFree, { side, polygon }),
      emissivity: FINISH_EMISSIVITY[BOARD_FINISH].emissivity,
      maxBodyKPerW: this.maxBodyKPerW,
      face,
      body: this.bodyOf({ side, polygon }),
    };
  }

  /** What one watt in a candidate shows through the plate alone, K per pixel on the board: nothing is seen beside
   *  it. */
  plateColumn(candidate: Candidate, state: PlateState): Column {
    this.preparePlates([candidate], state);
    return this.plates.get(candidate.footprint)!.get(state)!;
  }

  /** Compute the plate columns of some candidates that are not known yet: several together take less time than one by
   *  one. */
  preparePlates(candidates: readonly Candidate[], state: PlateState): void {
    const missing = new Set<HeatFootprint>();
    for (const { footprint } of candidates) {
      if (this.plates.get(footprint)?.has(state) !== true) missing.add(footprint);
    }
    if (missing.size === 0) return;
    const footprints = [...missing];
    const columns = this.columnsOf(footprints, state);
    footprints.forEach((footprint, k) => {
      const known = this.plates.get(footprint) ?? new Map<PlateState, Column>();
      this.plates.set(footprint, known);
      known.set(state, this.onBoard(columns[k]!));
    });
  }

  /** A column of values at the pixels on the board. */
  onBoard(values: Float32Array): Column {
    return { at: this.boardAt, values, wide: true };
  }

  private alternate(periodS: number): AlternatingPlate {
    const { conductanceWPerK, lossWPerM2K, capacityJPerM2K, conductanceKnown: told } = this.plate;
    const constants = { periodS, conductanceWPerK, lossWPerM2K, capacityJPerM2K, told };
    return new AlternatingPlate(constants, this.grid, this.pictures);
  }

  private columnsOf(footprints: readonly HeatFootprint[], state: PlateState): Float32Array[] {
    if (!isAlternating(state)) return this.plateColumns.columns(footprints, this.wayTo(state));
    return footprints.map((footprint) => this.alternating!.column(footprint, state));
  }

  /** How the plate is brought to a state of constant power, and how far heat has spread then, mm. */
  wayTo(state: PlateState): PlateSteps & { readonly spreadMm: number } {
    const { timeConstants: x, inTime, weights } = { ...state, ...stepsTo(state) };
    const keep = x === undefined ? 1 : 1 / (1 + x / inTime);
    const spreadMm = x === undefined ? state.lengthMm : this.plate.restMm * Math.sqrt(x * keep);
    return {
      stepMm: spreadMm / Math.sqrt(inTime),
      spreadMm,
      weights,
      keep,
      perWatt: this.plate.perWatt(state),
    };
  }

  /** Any smooth change over a candidate's face, as a mirrored room makes: K per pixel, of either sign. */
  mirrorColumns(candidate: Candidate): readonly Column[] {
    let columns = this.mirrors.get(candidate.footprint);
    if (columns === undefined && candidate.face !== null) {
      const { seen, offset } = this.pictures[candidate.face.picture]!;
      columns = faceShapes(candidate.face.window, seen.width, seen.opticsSigmaPx, offset);
      this.mirrors.set(candidate.footprint, columns);
    } else if (columns === undefined) {
      columns = this.pictures
        .filter(({ view }) => view.side === candidate.side)
        .flatMap(({ view, seen: { width, height, opticsSigmaPx }, offset }) =>
          mirrorShapes(view, candidate.polygon, width, height, opticsSigmaPx, offset),
        );
      this.mirrors.set(candidate.footprint, columns);
    }
    return columns;
  }

  private bodyOf(region: Pick<Region, "side" | "polygon">): Column | null {
    return joinColumns(this.pictures.flatMap((picture) => bodyColumn(picture, region) ?? []));
  }

  private shinyChance(before: number, region: Pick<Region, "side" | "polygon">): number {
    return this.pictures
      .filter(({ view }) => view.side === region.side)
      .reduce((chance, picture) => shinyFromBaseline(chance, faceContrast(picture, region.polygon)), before);
  }

  /** The plate as it shows what uneven copper changes. */
  get copper(): CopperColumns {
    this.copperColumns ??= new CopperColumns(this.outline, this.pictures, this.boardAt);
    return this.copperColumns;
  }

  /** χ² against a state of the plate before anything is seen. */
  penaltyOf(state: PlateState): number {
    return isAlternating(state) ? this.alternating!.penaltyOf(state) : this.plate.penaltyOf(state);
  }
}
