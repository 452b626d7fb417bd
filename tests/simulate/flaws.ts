// simulate: a stream of random numbers → what of a bench departs from the textbook: optics, mirrors, losses, the map.
import type { Camera } from "./camera.js";
import type { Chosen } from "./choose-sources.js";
import type { PlateGrid } from "./plate.js";
import type { Random } from "./random.js";
import type { TrueBoard } from "./scene.js";
import type { Mirrors } from "./scenery.js";
import type { Sensor } from "./sensor.js";
import type { Surroundings } from "./surroundings.js";
import type { Telling } from "./tell-tool.js";

/** Give a camera worse or better optics than its data sheet: the blur, and in half of them a faint wide halo. */
export function flawedCamera(random: Random, camera: Camera): Camera {
  const blurPx = random.uniform(0.5, 1.8);
  if (random.chance(0.5)) return { ...camera, blurPx };
  return { ...camera, blurPx, halo: { share: random.uniform(0.02, 0.1), px: random.uniform(3, 6) } };
}

/** Give a sensor what its flat field leaves of the lens's shading: the corners show less of what differs from its
 *  housing. */
export function flawedSensor(random: Random, sensor: Sensor, ambientC: number): Sensor {
  const { width, height } = sensor;
  const shade = random.uniform(0, 0.04);
  const gain = new Float32Array(width * height);
  for (let j = 0, k = 0; j < height; j++) {
    for (let i = 0; i < width; i++, k++) {
      const r2 = 2 * ((i / width - 0.5) ** 2 + (j / height - 0.5) ** 2);
      gain[k] = 1 - shade * r2;
    }
  }
  return { ...sensor, gain, housingC: ambientC + random.uniform(1, 8) };
}

/** How far solder mask and plastic are from a mirror: smooth mask is the better mirror. */
export function flawedMirrors(random: Random, mirrors: Mirrors): Mirrors {
  return { ...mirrors, softSpread: random.uniform(1.6, 2.6) };
}

/** In a quarter of the rooms a lamp hangs over the bench: small, hot and still, but for what the board's nudge and its
 *  own warming change.
 */
export function withLamp(
  random: Random,
  before: Surroundings,
  after: Surroundings,
  amount: number,
): { roomBefore: Surroundings; roomAfter: Surroundings } {
  if (!random.chance(0.25)) return { roomBefore: before, roomAfter: after };
  const lamp = {
    x: random.uniform(-0.1, 1.1),
    y: random.uniform(-0.1, 1.1),
    rx: random.uniform(0.04, 0.1),
    ry: random.uniform(0.04, 0.1),
    angle: random.uniform(0, Math.PI),
    riseK: random.uniform(10, 40),
  };
  const later = {
    ...lamp,
    x: lamp.x + 0.008 * amount * random.normal(),
    y: lamp.y + 0.008 * amount * random.normal(),
    riseK: lamp.riseK * (1 + 0.04 * amount * random.normal()),
  };
  return {
    roomBefore: { ...before, blobs: [...before.blobs, lamp] },
    roomAfter: { ...after, blobs: [...after.blobs, later] },
  };
}

/** Losses that vary over the board by up to ±15 %: tall parts catch more air, the middle of the board less. */
export function unevenLoss(random: Random, grid: PlateGrid): PlateGrid {
  const waves = Array.from({ length: 4 }, () => ({
    kx: random.sign() * random.uniform(0.05, 0.25),
    ky: random.sign() * random.uniform(0.05, 0.25),
    phase: random.uniform(0, 2 * Math.PI),
    depth: random.uniform(0, 0.0375),
  }));
  const lossShare = new Float64Array(grid.inside.length);
  let sum = 0;
  let cells = 0;
  for (let j = 0, c = 0; j < grid.ny; j++) {
    for (let i = 0; i < grid.nx; i++, c++) {
      if (grid.inside[c] === 0) continue;
      const x = grid.originMm[0] + i * grid.cellMm;
      const y = grid.originMm[1] + j * grid.cellMm;
      let share = 1;
      for (const { kx, ky, phase, depth } of waves) share += depth * Math.cos(kx * x + ky * y + phase);
      lossShare[c] = share;
      sum += share;
      cells++;
    }
  }
  for (let c = 0; c < lossShare.length; c++) lossShare[c] = (lossShare[c]! * cells) / sum;
  return { ...grid, lossShare };
}

/** How wrong a map is: shapes off by up to 0.1 mm in some and up to 0.3 mm in others, parts that nobody drew, and
 *  plate constants that are off by up to a fifth in half of the maps that tell them.
 *  @param unlisted leave out the part that is at fault as well.
 */
export function drawTelling(
  random: Random,
  board: TrueBoard,
  chosen: readonly Chosen[],
  unlisted: boolean,
): Telling {
  const reachMm = random.chance(0.4) ? 0.1 : random.uniform(0.1, 0.3);
  const forgetful = random.chance(0.5) ? random.uniform(0.02, 0.08) : 0;
  const missing = new Set<string>();
  for (const part of board.parts) {
    if (chosen.some((one) => one.part === part)) {
      if (unlisted && !part.normallyWarm) missing.add(part.ref);
    } else if (!part.normallyWarm && random.chance(forgetful)) missing.add(part.ref);
  }
  const factor = (): number => 1 + random.uniform(-0.2, 0.2);
  return {
    reachMm,
    cornerMm: 0.3 * reachMm,
    missing,
    plateFactors: random.chance(0.5) ? [factor(), factor(), factor()] : null,
  };
}
