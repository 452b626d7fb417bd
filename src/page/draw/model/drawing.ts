// page: a board map and fiducials → the drawing that is edited, and back.
import type { BoardMap, Region, View } from "../../../board/board-schema.js";
import type { Point, Polygon } from "../../../board/polygon.js";

/** A side of the board. */
export type Side = Region["side"];

/** A region while it is drawn: its ref may be empty or taken, and `id` tells it from others for as long as the drawing
 *  is open. */
export interface DrawnRegion extends Readonly<Omit<Region, "polygon" | "nets">> {
  readonly id: number;
  readonly polygon: Polygon;
  readonly nets?: readonly string[] | undefined;
}

/** A fiducial while it is picked: one of its ends may still be missing. */
export interface DrawnFiducial {
  /** Board point, mm, seen from the top side. */
  readonly board: Point | null;
  /** Pixel of the picture; integers are pixel centres. */
  readonly pixel: Point | null;
}

/** How a picture (the baseline, or a photo) shows the board. */
export interface Placement {
  readonly side: Side;
  /** Size of the picture, px. */
  readonly width: number;
  readonly height: number;
  readonly fiducials: readonly DrawnFiducial[];
}

/** All that is edited. Never changed in place: every operation makes a new one that shares what it leaves alone. */
export interface Drawing {
  readonly name: string;
  readonly thicknessMm: number | null;
  readonly plate: BoardMap["plate"] | null;
  /** Corners in mm; empty before the outline is drawn. */
  readonly outline: Polygon;
  readonly regions: readonly DrawnRegion[];
  /** Id of the next region. */
  readonly nextId: number;
  /** By the picture: the SHA-256 of its file, or FRAME for a baseline that is no file. */
  readonly placements: Readonly<Record<string, Placement>>;
}

/** Stands for a baseline that comes from no file. */
export const FRAME = "frame";

/** A drawing with nothing on it. */
export const EMPTY_DRAWING: Drawing = Object.freeze({
  name: "",
  thicknessMm: null,
  plate: null,
  outline: [],
  regions: [],
  nextId: 1,
  placements: {},
});

/** Take a board map into a drawing; placements stay.
 *  @param before drawing whose placements are kept. */
export function drawingOf(map: BoardMap, before: Drawing = EMPTY_DRAWING): Drawing {
  return {
    name: map.name ?? "",
    thicknessMm: map.thicknessMm ?? null,
    plate: map.plate ?? null,
    outline: map.outline,
    regions: map.regions.map((region, i) => ({ ...region, id: before.nextId + i })),
    nextId: before.nextId + map.regions.length,
    placements: before.placements,
  };
}

/** Make the board map of a drawing. What is missing or wrong in the drawing is so in the map: `checkBoard` lists it.
 *  Labels and lists that are empty are left out. */
export function mapOf(drawing: Drawing): BoardMap {
  const map: BoardMap = {
    kind: "faultglow/board",
    version: 1,
    outline: pointsOf(drawing.outline),
    regions: drawing.regions.map(regionOf),
  };
  if (drawing.name.trim() !== "") map.name = drawing.name.trim();
  if (drawing.thicknessMm !== null) map.thicknessMm = drawing.thicknessMm;
  if (drawing.plate != null) map.plate = drawing.plate;
  return map;
}

/** Make the view of a picture from the fiducials that have both ends; null where there are fewer than two. */
export function viewOf(drawing: Drawing, picture: string): View | null {
  const placement = drawing.placements[picture];
  if (placement === undefined) return null;
  const fiducials = placement.fiducials.flatMap(({ board, pixel }) =>
    board === null || pixel === null
      ? []
      : { board: [board[0], board[1]] as [number, number], pixel: [pixel[0], pixel[1]] as [number, number] },
  );
  if (fiducials.length < 2) return null;
  const { side, width, height } = placement;
  return { kind: "faultglow/view", version: 1, side, frame: { width, height }, fiducials };
}

/** Take a view as the placement of a picture. */
export function placementOf(view: View): Placement {
  return { side: view.side, ...view.frame, fiducials: view.fiducials };
}

function regionOf({ id: _, polygon, nets, label, ...rest }: DrawnRegion): Region {
  const region: Region = { ...rest, polygon: pointsOf(polygon) };
  if (label !== undefined && label.trim() !== "") region.label = label;
  if (nets !== undefined && nets.length > 0) region.nets = [...nets];
  return region;
}

function pointsOf(polygon: Polygon): [number, number][] {
  return polygon.map(([x, y]) => [x, y]);
}
