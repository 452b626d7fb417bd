// simulate: a stream of random numbers → a board with outline, parts and unnamed pads.
import { makePart } from "./make-part.js";
import { boundsOf, isInside, type Point, turnedRectangle } from "./polygons.js";
import type { Random } from "./random.js";
import type { Part, TrueBoard } from "./scene.js";

/** What a kind of scene needs the board to have. */
export interface BoardWishes {
  /** Bare-metal parts at least, on the side that is seen. */
  readonly shinyParts: number;
  /** The map keeps silent about the finish of the first bare-metal part. */
  readonly hideFinish: boolean;
  /** A processor and a power manager that are warm on a healthy board. */
  readonly warmParts: boolean;
}

type Side = "top" | "bottom";

/** Draw a board. `side` is the side the camera will see: it carries more of the parts. */
export function randomBoard(random: Random, side: Side, wishes: BoardWishes): TrueBoard {
  const width = random.uniform(32, 110);
  const height = Math.min(110, Math.max(30, width * random.uniform(0.4, 1.1)));
  const outline = randomOutline(random, width, height);
  const total = random.integer(18, 60);
  const seen = Math.max(12, Math.round(total * random.uniform(0.55, 0.75)));
  const namer = new Map<string, number>();
  const front = placeSide(random, outline, side, seen, wishes, namer);
  const back = placeSide(random, outline, side === "top" ? "bottom" : "top", total - seen, null, namer);
  return {
    name: `board ${random.integer(100, 999)}`,
    thicknessMm: random.pick([0.6, 0.8, 1, 1.2, 1.6]),
    outline,
    parts: [...front, ...back],
    unnamed: placePads(random, outline, side, front),
  };
}

function randomOutline(random: Random, w: number, h: number): Point[] {
  const style = random.next();
  if (style < 0.4)
    return [
      [0, 0],
      [w, 0],
      [w, h],
      [0, h],
    ];
  if (style < 0.6) {
    const c = random.uniform(0.05, 0.16) * Math.min(w, h);
    return [
      [c, 0],
      [w - c, 0],
      [w, c],
      [w, h - c],
      [w - c, h],
      [c, h],
      [0, h - c],
      [0, c],
    ];
  }
  if (style < 0.8) {
    const x = w * random.uniform(0.55, 0.8);
    const y = h * random.uniform(0.15, 0.4);
    return [
      [0, 0],
      [x, 0],
      [x, y],
      [w, y],
      [w, h],
      [0, h],
    ];
  }
  const r = random.uniform(0.06, 0.2) * Math.min(w, h);
  const points: Point[] = [];
  for (const [cx, cy, from] of [
    [w - r, r, -90],
    [w - r, h - r, 0],
    [r, h - r, 90],
    [r, r, 180],
  ] as const) {
    for (let i = 0; i <= 4; i++) {
      const angle = ((from + i * 22.5) * Math.PI) / 180;
      points.push([cx + r * Math.cos(angle), cy + r * Math.sin(angle)]);
    }
  }
  return points;
}

/** Parts of one side: large ones first, rows of passives along them, the rest scattered. */
function placeSide(
  random: Random,
  outline: readonly Point[],
  side: Side,
  count: number,
  wishes: BoardWishes | null,
  namer: Map<string, number>,
): Part[] {
  const parts: Part[] = [];
  const [x0, y0, x1, y1] = boundsOf(outline);
  const short = Math.min(x1 - x0, y1 - y0);
  const free = (polygon: readonly Point[], gapMm: number): boolean => {
    const box = boundsOf(polygon);
    for (const [x, y] of turnedRectangle(
      [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2],
      box[2] - box[0] + 1,
      box[3] - box[1] + 1,
      0,
    )) {
      if (!isInside(outline, x, y)) return false;
    }
    return parts.every((other) => {
      const b = boundsOf(other.polygon);
      return (
        box[2] + gapMm <= b[0] || b[2] + gapMm <= box[0] || box[3] + gapMm <= b[1] || b[3] + gapMm <= box[1]
      );
    });
  };
  const put: PutPart = (kind, center, w, h, angleDeg, gapMm) => {
    const polygon = turnedRectangle(center, w, h, angleDeg);
    if (parts.length >= count || !free(polygon, gapMm)) return null;
    const shiny = parts.filter((p) => p.finish === "bare-metal").length;
    const hidden = wishes?.hideFinish === true && shiny === 0;
    const part = makePart(
      random,
      { kind, side, center, size: [w, h], angleDeg, polygon, hideBare: hidden },
      namer,
    );
    parts.push(part);
    return part;
  };
  const scatter = (
    kind: Part["kind"],
    w: number,
    h: number,
    angleDeg: number,
    tries: number,
  ): Part | null => {
    for (let i = 0; i < tries; i++) {
      const center: Point = [random.uniform(x0 + w / 2, x1 - w / 2), random.uniform(y0 + h / 2, y1 - h / 2)];
      const part = put(kind, center, w, h, angleDeg, 0.6);
      if (part !== null) return part;
    }
    return null;
  };

  const cans = wishes === null ? random.integer(0, 1) : wishes.shinyParts + random.integer(0, 1);
  for (let i = 0; i < cans; i++) {
    const largest = Math.min(20, short * 0.4);
    scatter("shield", random.uniform(6, largest), random.uniform(6, largest), 0, 200);
  }
  const chips: Part[] = [];
  const ics = Math.max(2, Math.round(count * random.uniform(0.14, 0.28)));
  for (let i = 0; i < ics; i++) {
    const w = random.logUniform(2, i === 0 ? Math.min(14, short * 0.3) : Math.min(9, short * 0.25));
    const part = scatter("ic", w, w * random.uniform(0.6, 1.2), random.chance(0.07) ? 45 : 0, 80);
    if (part !== null) chips.push(part);
  }
  for (let i = random.integer(0, 2); i > 0; i--) {
    scatter("connector", random.uniform(4, 12), random.uniform(2.5, 5), random.pick([0, 90]), 60);
  }
  for (const chip of chips) placeRows(random, chip, put);
  for (let i = 0; parts.length < count && i < 200; i++) {
    const [w, h] = passiveSize(random);
    scatter("passive", w, h, random.pick([0, 90]), 10);
  }
  if (wishes?.warmParts === true) markWarm(parts);
  return parts;
}

/** Puts a part on the board; null where there is no room for it. */
type PutPart = (
  kind: Part["kind"],
  center: Point,
  w: number,
  h: number,
  angleDeg: number,
  gapMm: number,
) => Part | null;

/** Rows of capacitors and resistors along a chip's edges. */
function placeRows(random: Random, chip: Part, put: PutPart): void {
  const [x0, y0, x1, y1] = boundsOf(chip.polygon);
  for (const edge of ["left", "right", "up", "down"] as const) {
    if (!random.chance(0.5)) continue;
    const [long, wide] = passiveSize(random);
    const gap = random.uniform(0.4, 1.4);
    const pitch = wide + random.uniform(0.3, 1.4);
    const upright = edge === "left" || edge === "right";
    const start = upright ? y0 : x0;
    const room = Math.max(1, Math.floor((upright ? y1 - y0 : x1 - x0) / pitch));
    const first = start + random.uniform(0, 0.5) * pitch + wide / 2;
    for (let i = 0; i < Math.min(room, random.integer(1, 5)); i++) {
      const along = first + i * pitch;
      const out = gap + long / 2;
      if (edge === "left") put("passive", [x0 - out, along], long, wide, 0, 0.3);
      else if (edge === "right") put("passive", [x1 + out, along], long, wide, 0, 0.3);
      else if (edge === "up") put("passive", [along, y0 - out], long, wide, 90, 0.3);
      else put("passive", [along, y1 + out], long, wide, 90, 0.3);
    }
  }
}

function passiveSize(random: Random): [number, number] {
  const long = random.logUniform(0.8, 3);
  return [long, Math.max(0.45, long * random.uniform(0.5, 0.75))];
}

/** The two largest chips become the processor and the power manager. */
function markWarm(parts: Part[]): void {
  const chips = parts
    .map((part, index) => ({ part, index }))
    .filter(({ part }) => part.kind === "ic")
    .sort((a, b) => b.part.sizeMm[0] * b.part.sizeMm[1] - a.part.sizeMm[0] * a.part.sizeMm[1]);
  for (const [rank, { part, index }] of chips.slice(0, 2).entries()) {
    parts[index] = { ...part, normallyWarm: true, label: rank === 0 ? "processor" : "power manager" };
  }
}

/** Copper pads, test points and small parts the map leaves out. */
function placePads(random: Random, outline: readonly Point[], side: Side, parts: readonly Part[]): Part[] {
  const [x0, y0, x1, y1] = boundsOf(outline);
  const pads: Part[] = [];
  for (let i = random.integer(6, 40); i > 0; i--) {
    const center: Point = [random.uniform(x0 + 1, x1 - 1), random.uniform(y0 + 1, y1 - 1)];
    const size = random.logUniform(0.4, 1.6);
    const polygon = turnedRectangle(center, size, size * random.uniform(0.6, 1), random.pick([0, 45]));
    if (polygon.some(([x, y]) => !isInside(outline, x, y))) continue;
    if (
      parts.some((part) =>
        part.polygon.some(([x, y]) => Math.hypot(x - center[0], y - center[1]) < size + 0.4),
      )
    )
      continue;
    const draft = {
      kind: "other",
      side,
      center,
      size: [size, size],
      angleDeg: 0,
      polygon,
      hideBare: false,
    } as const;
    pads.push({
      ...makePart(random, draft, new Map()),
      emissivity: random.pick([0.25, 0.4, 0.6, 0.82, 0.94]),
    });
  }
  return pads;
}
