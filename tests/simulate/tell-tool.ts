// simulate: the true board and camera → the map and the view that the tool is given, a little wrong.
import { applyTo, type Camera } from "./camera.js";
import { boundsOf, type Point } from "./polygons.js";
import type { Random } from "./random.js";
import type { Part, SimBoardMap, SimRegion, SimView, TrueBoard, Truth } from "./scene.js";

/** How wrong a map is. */
export interface Telling {
  /** A region's shape lies up to this far from the part along each axis, mm. */
  readonly reachMm: number;
  /** … and each corner up to this much more. */
  readonly cornerMm: number;
  /** Parts that are not in the map. */
  readonly missing: ReadonlySet<string>;
  /** Told ÷ true conductance, loss and heat capacity, where they are told; null: as they are. */
  readonly plateFactors: readonly [number, number, number] | null;
}

const CAREFUL: Telling = { reachMm: 0.06, cornerMm: 0.03, missing: new Set(), plateFactors: null };

/** Write the map as someone would draw it: by default each region is off by up to 0.1 mm, and nothing is missing. */
export function tellMap(
  random: Random,
  board: TrueBoard,
  plate: Truth["plate"],
  telling: Telling = CAREFUL,
): SimBoardMap {
  const map: SimBoardMap = {
    kind: "faultglow/board",
    version: 1,
    name: board.name,
    thicknessMm: board.thicknessMm,
    outline: board.outline.map(([x, y]) => [round(x, 2), round(y, 2)]),
    regions: board.parts
      .filter((part) => !telling.missing.has(part.ref))
      .map((part) => tellRegion(random, part, telling)),
  };
  if (plate.known) {
    const [k, h, c] = telling.plateFactors ?? [1, 1, 1];
    map.plate = {
      conductanceWPerK: Number((k * plate.conductanceWPerK).toPrecision(3)),
      lossWPerM2K: Number((h * plate.lossWPerM2K).toPrecision(3)),
      heatCapacityJPerM2K: Number((c * plate.heatCapacityJPerM2K).toPrecision(3)),
    };
  }
  return map;
}

function tellRegion(random: Random, part: Part, { reachMm, cornerMm }: Telling): SimRegion {
  const dx = random.uniform(-reachMm, reachMm);
  const dy = random.uniform(-reachMm, reachMm);
  const region: SimRegion = {
    ref: part.ref,
    label: part.label,
    side: part.side,
    polygon: part.polygon.map(([x, y]) => [
      round(x + dx + random.uniform(-cornerMm, cornerMm), 2),
      round(y + dy + random.uniform(-cornerMm, cornerMm), 2),
    ]),
  };
  if (part.finishDeclared) {
    region.kind = part.kind;
    region.finish = part.finish;
  }
  if (part.nets.length > 0) region.nets = [...part.nets];
  if (part.normallyWarm) region.normallyWarm = true;
  return region;
}

/** Click four to six fiducials: the outermost corners of the outline, then corners of parts; about 0.3 px off each. */
export function tellView(random: Random, board: TrueBoard, camera: Camera, side: "top" | "bottom"): SimView {
  const [x0, y0, x1, y1] = boundsOf(board.outline);
  const marks: Point[] = [];
  for (const [x, y] of [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ] as const) {
    let best: Point = board.outline[0]!;
    for (const corner of board.outline) {
      if (Math.hypot(corner[0] - x, corner[1] - y) < Math.hypot(best[0] - x, best[1] - y)) best = corner;
    }
    marks.push(best);
  }
  const seen = board.parts.filter((part) => part.side === side && part.kind !== "passive");
  for (let i = random.integer(0, 2); i > 0 && seen.length > 0; i--) {
    const corner = random.pick(random.pick(seen).polygon);
    if (marks.every((mark) => Math.hypot(mark[0] - corner[0], mark[1] - corner[1]) > 4)) marks.push(corner);
  }
  return {
    kind: "faultglow/view",
    version: 1,
    side,
    frame: { width: camera.width, height: camera.height },
    fiducials: marks.map((mark) => {
      const [px, py] = applyTo(camera.boardToFrame, ...mark);
      const each = 0.3 / Math.SQRT2;
      return {
        board: [round(mark[0], 2), round(mark[1], 2)],
        pixel: [round(px + each * random.normal(), 1), round(py + each * random.normal(), 1)],
      };
    }),
  };
}

function round(value: number, digits: number): number {
  return Math.round(value * 10 ** digits) / 10 ** digits;
}
