// place: an earlier frame with its view, a later frame and the board → the later frame's view, how sure, and whether to
// rely on it.
import type { BoardMap, View } from "../board/board-schema.js";
import { checkViewFrame } from "../board/check-view-frame.js";
import { checkViewUnit } from "../board/check-view-unit.js";
import { type PlacedView, placeView } from "../board/place-view.js";
import {
  applyHomography,
  composeHomographies,
  invertHomography,
  jacobianAt,
  type Matrix3,
} from "../board/plane-transform.js";
import { boundsOf, type Point, pointInPolygon } from "../board/polygon.js";
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { type BoardArm, boardArm } from "./board-arm.js";
import { boardRivals } from "./board-rivals.js";
import { boardZones } from "./board-zones.js";
import { edgeFrame } from "./edge-frame.js";
import { innerEvidence, outlineLikeness } from "./inner-evidence.js";
import { joinMap, type Match, matchFrames } from "./match-frames.js";
import { matrixMotion, motionMatrix } from "./motion.js";
import { motionErrorPx } from "./motion-error.js";
import { type PlaceDoubt, placeDoubt } from "./place-doubt.js";
import { PLACE_NEW_DEFAULTS, type PlaceNewOptions } from "./place-new-defaults.js";
import { refineOnMap } from "./refine-on-map.js";
import { isSameFrame } from "./same-frame.js";
import { seeEdges } from "./see-edges.js";
import { transferFiducials } from "./transfer-fiducials.js";

/** A view found from an earlier one. */
export interface NewView {
  /** Fiducials at corners of the outline; of the earlier view's side. Null where nothing agrees. */
  readonly view: View | null;
  /** Standard error of the placing alone, root mean square over the board; what the earlier view's own fiducials are
   *  off by comes on top.
   */
  readonly sigmaPx: number;
  readonly sigmaMm: number;
  /** False: ask for fiducials. */
  readonly trusted: boolean;
  /** Why it is not trusted; null if it is. */
  readonly doubt: PlaceDoubt | null;
  /** Turn (clockwise as seen), scale, and the share of the board's edges that the later frame sees. */
  readonly rotationDeg: number;
  readonly scale: number;
  readonly seenShare: number;
  /** Standard deviations by which the edges inside the board agree better in their place than elsewhere. */
  readonly innerZ: number;
  /** The same for the best of the other ways to lay the board: turned half round or by a quarter, turned over. */
  readonly rivalZ: number;
  /** Mean squared correlation of the frames along the outline, 0…1. */
  readonly outlineLikeness: number;
}

/** What the placing's own spread understates, measured on simulated boards (`npm run evaluate -- --figures`): edges of
 *  one part share their faults over several groups.
 */
const UNDERSTATED = 2.9;
/** So many fiducials fix a view without anything assumed. */
const WELL_KNOWN = 4;
/** Points of the board, each way, over which errors are averaged. */
const GRID = 7;

/** Find the view of a later baseline frame of the same side of the same board, from an earlier baseline and its view.
 *  The board may have been turned by up to 22°, moved and scaled; contrast may have faded or turned round, part by
 *  part. Both frames show the side of the earlier view: from the other side of a board nothing but the outline would
 *  agree.
 *  @param earlier its frame, °C, NaN = no reading, and the view of it.
 *  @param later °C, any size.
 *  @param board tells what belongs to the board, and which faces are mirrors.
 *  @throws ToolError E_VIEW_FRAME, E_VIEW_FIDUCIALS, E_VIEW_FIT or E_VIEW_SIDE if the earlier view can't be used.
 */
export function placeNewView(
  earlier: { readonly frame: Raster<"degC">; readonly view: View; readonly viewFile?: string | null },
  later: Raster<"degC">,
  board: BoardMap,
  options: OptionsOf<typeof PLACE_NEW_DEFAULTS> = {},
): NewView {
  const o = { ...PLACE_NEW_DEFAULTS, ...options };
  const file = earlier.viewFile ?? "the earlier view";
  const { width, height } = earlier.frame;
  checkViewFrame(earlier.view, width, height, file);
  checkViewUnit(earlier.view, board, file);
  // A baseline that serves two attempts: its view is known, and there is nothing to find.
  if (isSameFrame(earlier.frame, later)) {
    placeView(earlier.view, { file });
    return { ...SAME_FRAME, view: earlier.view };
  }
  const from = edgeFrame(earlier.frame);
  const placed = onItsMap(from, placeView(earlier.view, { file }), earlier.view, board, o);
  const zones = boardZones(placed, board, width, height, Math.max(1, width / later.width));
  const arm = boardArm(placed, board);
  const to = edgeFrame(later);
  const match = matchFrames(from, to, zones, arm, o);
  if (match === null) return NOTHING_FOUND;
  return describe(settle(match, placed, board, arm, o), match, placed, later, board, arm, o);
}

type Placed = Pick<PlacedView, "matrix" | "side">;

/** The earlier view as the map's edges in its frame have it; clicked fiducials hold it where they show little. */
function onItsMap(
  frame: Raster<"degC">,
  placed: PlacedView,
  { fiducials }: View,
  board: BoardMap,
  o: PlaceNewOptions,
): Placed {
  const known = fiducials.length >= WELL_KNOWN ? o.clickedPx : null;
  const found = refineOnMap(frame, placed, board, known, o);
  return found?.found.converged ? { matrix: found.matrix, side: placed.side } : placed;
}

/** Where the board lies in the later frame, and the standard error over the board, px. */
interface Settled {
  readonly toFrame: Matrix3;
  readonly sigmaPx: number;
  readonly converged: boolean;
}

/** What both frames show of the board tells its place whatever the map leaves out; together with the map's own edges in
 *  the later frame it is told best: where one shows little, or shows the room, the other one holds.
 */
function settle(match: Match, placed: Placed, board: BoardMap, arm: BoardArm, o: PlaceNewOptions): Settled {
  const both = joinMap(match, placed, board, arm, o);
  const found = both.converged ? both : match.found;
  const before = boardPoints(board).map((point) => applyHomography(placed.matrix, point));
  return {
    toFrame: composeHomographies(motionMatrix(arm, found.motion), placed.matrix),
    sigmaPx: UNDERSTATED * motionErrorPx(arm, found.motion, found.covariance, before),
    converged: found.converged,
  };
}

function describe(
  { toFrame, sigmaPx, converged }: Settled,
  { cells, picture }: Match,
  placed: Placed,
  later: Raster,
  board: BoardMap,
  arm: BoardArm,
  o: PlaceNewOptions,
): NewView {
  const motion = matrixMotion(arm, composeHomographies(toFrame, invertHomography(placed.matrix)));
  const points = boardPoints(board);
  const mmPerPx = points.reduce((sum, point) => sum + scaleAt(toFrame, point), 0) / points.length;
  const { alike } = seeEdges(cells, picture, arm, motion, false);
  const seen = alike.reduce((count, value) => count + (value * 0 === 0 ? 1 : 0), 0);
  const seenShare = seen / Math.max(1, cells.starts.length - 1);
  const inner = innerEvidence(cells, picture, arm, motion, boardRivals(placed, board.outline));
  const outline = outlineLikeness(cells, alike);
  const doubt = placeDoubt({ converged, sigmaPx, seenShare, outline, inner }, o);
  return {
    view: {
      kind: "faultglow/view",
      version: 1,
      side: placed.side,
      frame: { width: later.width, height: later.height },
      fiducials: transferFiducials(toFrame, board.outline, later),
    },
    sigmaPx,
    sigmaMm: sigmaPx * mmPerPx,
    trusted: doubt === null,
    doubt,
    rotationDeg: (Math.atan2(motion[1], motion[0]) * 180) / Math.PI,
    scale: Math.hypot(motion[0], motion[1]) / arm.armPx,
    seenShare,
    innerZ: inner.z,
    rivalZ: inner.rivalZ,
    outlineLikeness: outline,
  };
}

/** mm per px of the later frame at a point of the board. */
function scaleAt(toFrame: readonly number[], point: Point): number {
  const [a, b, c, d] = jacobianAt(toFrame, point);
  return 1 / Math.sqrt(Math.abs(a * d - b * c));
}

function boardPoints({ outline }: BoardMap): Point[] {
  const { minX, minY, maxX, maxY } = boundsOf(outline);
  const points: Point[] = [];
  for (let j = 0; j < GRID; j++) {
    for (let i = 0; i < GRID; i++) {
      const point: Point = [
        minX + ((i + 0.5) / GRID) * (maxX - minX),
        minY + ((j + 0.5) / GRID) * (maxY - minY),
      ];
      if (pointInPolygon(outline, point)) points.push(point);
    }
  }
  return points.length > 0 ? points : [...outline];
}

const SAME_FRAME: Omit<NewView, "view"> = Object.freeze({
  sigmaPx: 0,
  sigmaMm: 0,
  trusted: true,
  doubt: null,
  rotationDeg: 0,
  scale: 1,
  seenShare: 1,
  innerZ: 0,
  rivalZ: 0,
  outlineLikeness: 1,
});

const NOTHING_FOUND: NewView = Object.freeze({
  view: null,
  sigmaPx: Number.POSITIVE_INFINITY,
  sigmaMm: Number.POSITIVE_INFINITY,
  trusted: false,
  doubt: "nothing",
  rotationDeg: 0,
  scale: 1,
  seenShare: 0,
  innerZ: 0,
  rivalZ: 0,
  outlineLikeness: 0,
});
