// simulate: a stream of random numbers, a board and a camera → everything that decides the baseline's radiance.
import { radianceOf } from "./band-radiance.js";
import { applyTo, type Camera } from "./camera.js";
import type { PlateGrid } from "./plate.js";
import { boundsOf } from "./polygons.js";
import type { Random } from "./random.js";
import type { Scenery } from "./render.js";
import type { TrueBoard } from "./scene.js";
import { smoothField } from "./sensor.js";
import { mirroredC, randomBackground, type Surroundings } from "./surroundings.js";
import { tabulate } from "./tabulate.js";

/** How much solder mask and plastic blur what they mirror, where nothing else is said. */
const SOFT_SPREAD = 2.2;
/** Mean emissivity of a board's solder mask, where nothing else is said. */
const MASK_EMISSIVITY = [0.88, 0.925] as const;

/** A scenery that mirrors nothing yet. */
export type BareScenery = Omit<Scenery, "mirrorSharp" | "mirrorSoft">;

/** Draw a baseline scenery: nothing heats. Unnamed pads are drawn first, under the named parts of the side that is
 *  seen. */
export function randomScenery(
  random: Random,
  board: TrueBoard,
  side: "top" | "bottom",
  camera: Camera,
  grid: PlateGrid,
  boardC: number,
  maskEmissivity: readonly [number, number] = MASK_EMISSIVITY,
): BareScenery {
  const parts = [...board.unnamed, ...board.parts.filter((part) => part.side === side)];
  const [x0, y0, x1, y1] = boundsOf(board.outline);
  const slope = smoothField(random, random.uniform(0.05, 0.5));
  const emissivity = randomMask(random, [x0, y0, x1, y1], maskEmissivity);
  const partOffsetK = Float64Array.from(parts, () => 0.08 * random.normal());
  const behind = randomBackground(random, boardC);
  const { width, height } = camera;
  const background = tabulate(
    (x, y) => radianceOf(behind(x / width, y / height)),
    [0, 0, width, height],
    1.5,
  );
  const place = { x0, y0, w: x1 - x0, h: y1 - y0 };
  return {
    parts,
    grid,
    plateRise: null,
    bodyRise: parts.map(() => null),
    partOffsetK,
    maskEmissivity: emissivity,
    boardC: (x, y) => boardC + slope((x - place.x0) / place.w, (y - place.y0) / place.h),
    background,
  };
}

/** Tilt and curve of each part as a mirror; drawn once, so that baseline and powered mirror alike. */
export interface Mirrors {
  readonly shift: readonly (readonly [number, number, number])[];
  /** How much solder mask and plastic blur what they mirror; 1 is a mirror. */
  readonly softSpread?: number;
}

/** Draw how each part stands as a mirror. */
export function randomMirrors(random: Random, count: number): Mirrors {
  return {
    shift: Array.from({ length: count }, () => [
      random.uniform(-0.08, 0.08),
      random.uniform(-0.08, 0.08),
      random.uniform(0.8, 1.6),
    ]),
  };
}

/** The two mirror functions of a scenery for a state of the room. */
export function mirrorsOf(
  camera: Camera,
  mirror: Mirrors,
  room: Surroundings,
): Pick<Scenery, "mirrorSharp" | "mirrorSoft"> {
  const { width, height } = camera;
  const wide: [number, number, number, number] = [-0.6 * width, -0.6 * height, 1.6 * width, 1.6 * height];
  const sharp = tabulate((x, y) => radianceOf(mirroredC(room, x / width, y / height, 1)), wide, 2);
  const soft = tabulate(
    (x, y) => radianceOf(mirroredC(room, x / width, y / height, mirror.softSpread ?? SOFT_SPREAD)),
    [0, 0, width, height],
    4,
  );
  return {
    mirrorSoft: soft,
    mirrorSharp: (part, x, y) => {
      const [dx, dy, gain] = mirror.shift[part]!;
      return sharp(
        width * (0.5 + dx) + gain * (x - width / 2),
        height * (0.5 + dy) + gain * (y - height / 2),
      );
    },
  };
}

/** Where a blob must stand so that a part mirrors it, as shares of the frame. */
export function mirrorPlace(
  camera: Camera,
  mirror: Mirrors,
  part: number,
  xMm: number,
  yMm: number,
): [number, number] {
  const [x, y] = applyTo(camera.boardToFrame, xMm, yMm);
  const [dx, dy, gain] = mirror.shift[part]!;
  return [0.5 + dx + gain * (x / camera.width - 0.5), 0.5 + dy + gain * (y / camera.height - 0.5)];
}

/** Solder mask over copper and over bare laminate differs a little: tracks, planes, a grain. */
function randomMask(
  random: Random,
  box: [number, number, number, number],
  range: readonly [number, number],
): (x: number, y: number) => number {
  const base = random.uniform(...range);
  const [x0, y0, x1, y1] = box;
  const tracks = Array.from({ length: random.integer(8, 30) }, () => {
    const cx = random.uniform(x0, x1);
    const cy = random.uniform(y0, y1);
    const long = random.uniform(2, 20);
    const wide = random.uniform(0.4, 3);
    const upright = random.chance(0.5);
    return {
      x0: cx - (upright ? wide : long) / 2,
      x1: cx + (upright ? wide : long) / 2,
      y0: cy - (upright ? long : wide) / 2,
      y1: cy + (upright ? long : wide) / 2,
      step: random.uniform(-0.03, 0.01),
    };
  });
  const grain = (): number => 0.003 * random.normal();
  return tabulate(
    (x, y) => {
      let e = base + grain();
      for (const t of tracks) if (x > t.x0 && x < t.x1 && y > t.y0 && y < t.y1) e += t.step;
      return Math.min(0.96, Math.max(0.8, e));
    },
    [x0, y0, x1, y1],
    0.35,
  );
}
