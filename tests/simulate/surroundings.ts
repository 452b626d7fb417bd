// simulate: a stream of random numbers → what the board's finishes mirror, and what lies behind the board.
import { makeRandom, type Random } from "./random.js";

interface Blob {
  readonly x: number;
  readonly y: number;
  readonly rx: number;
  readonly ry: number;
  readonly angle: number;
  readonly riseK: number;
}

/** What is mirrored, °C by place in the frame (as shares of its width, 0 … 1; may lie outside). */
export interface Surroundings {
  readonly roomC: number;
  readonly slopeK: readonly [number, number];
  readonly blobs: readonly Blob[];
}

/** Room, ceiling slope, the warm operator, a cold window. */
export function randomSurroundings(random: Random, ambientC: number): Surroundings {
  const blobs: Blob[] = [
    {
      x: random.uniform(0.1, 0.9),
      y: random.uniform(0, 0.9),
      rx: random.uniform(0.15, 0.4),
      ry: random.uniform(0.15, 0.35),
      angle: random.uniform(0, Math.PI),
      riseK: (33 - ambientC) * random.uniform(0.3, 0.9),
    },
  ];
  if (random.chance(0.6)) {
    blobs.push({
      x: random.uniform(-0.1, 1.1),
      y: random.uniform(-0.1, 1.1),
      rx: random.uniform(0.1, 0.3),
      ry: random.uniform(0.1, 0.3),
      angle: random.uniform(0, Math.PI),
      riseK: -random.uniform(2, 8),
    });
  }
  return {
    roomC: ambientC + random.uniform(-1.5, 1),
    slopeK: [random.uniform(-1, 1), random.uniform(-1, 1)],
    blobs,
  };
}

/** The same room a little later.
 *  @param amount 0 nothing moves … 1 the operator stands elsewhere.
 */
export function changedSurroundings(random: Random, before: Surroundings, amount: number): Surroundings {
  const blobs = before.blobs.map((blob, i) => {
    const reach = i === 0 ? amount : 0.15 * amount;
    return {
      ...blob,
      x: blob.x + reach * random.sign() * random.uniform(0.2, 0.6),
      y: blob.y + reach * random.sign() * random.uniform(0.1, 0.5),
      riseK: blob.riseK * (1 + reach * random.uniform(-0.5, 0.6)),
    };
  });
  return { ...before, roomC: before.roomC + 0.3 * amount * random.normal(), blobs };
}

/** Add the operator's hand or head close to a place, so that what stands there mirrors it. */
export function withBlobAt(
  random: Random,
  before: Surroundings,
  x: number,
  y: number,
  riseK: number,
): Surroundings {
  const blob: Blob = {
    x,
    y,
    rx: random.uniform(0.08, 0.2),
    ry: random.uniform(0.08, 0.2),
    angle: random.uniform(0, Math.PI),
    riseK,
  };
  return { ...before, blobs: [...before.blobs, blob] };
}

/** Temperature mirrored at a place.
 *  @param spread how much a finish blurs what it mirrors: 1 a mirror, about 2 solder mask and moulded plastic.
 */
export function mirroredC(room: Surroundings, x: number, y: number, spread: number): number {
  let sum = room.roomC + room.slopeK[0] * (x - 0.5) + room.slopeK[1] * (y - 0.5);
  for (const blob of room.blobs) {
    const c = Math.cos(blob.angle);
    const s = Math.sin(blob.angle);
    const u = (c * (x - blob.x) + s * (y - blob.y)) / (blob.rx * spread);
    const v = (c * (y - blob.y) - s * (x - blob.x)) / (blob.ry * spread);
    // A blurred image keeps its sum: wider is weaker, in both directions.
    sum += (blob.riseK / spread ** 2) * Math.exp(-(u * u + v * v));
  }
  return sum;
}

/** In a third of the benches a mat, a cloth or what shines in them has structure finer than a part, which stays where
 *  it is while the board moves. A stream of its own: what else is drawn does not depend on it.
 */
function benchGrain(random: Random): (x: number, y: number) => number {
  if (!random.chance(1 / 3)) return () => 0;
  const k = random.uniform(0.03, 0.25);
  const across = Math.round(1 / random.uniform(0.015, 0.04));
  const knots = Array.from({ length: (across + 2) ** 2 }, () => k * random.normal());
  return (x, y) => {
    const [u, v] = [x, y].map((at) => Math.min(across, Math.max(0, at * across))) as [number, number];
    const [i, j] = [Math.floor(u), Math.floor(v)];
    const at = (m: number, n: number): number => knots[n * (across + 2) + m]!;
    const above = at(i, j) + (u - i) * (at(i + 1, j) - at(i, j));
    const below = at(i, j + 1) + (u - i) * (at(i + 1, j + 1) - at(i, j + 1));
    return above + (v - j) * (below - above);
  };
}

/** What lies behind the board: its own temperature, a slope and a few large stains, fixed to the frame. */
export function randomBackground(random: Random, boardC: number): (x: number, y: number) => number {
  const level = boardC + random.sign() * random.uniform(0.3, 4);
  const slope = [random.uniform(-0.8, 0.8), random.uniform(-0.8, 0.8)] as const;
  const stains = Array.from({ length: random.integer(0, 3) }, () => ({
    x: random.uniform(0, 1),
    y: random.uniform(0, 1),
    r: random.uniform(0.08, 0.3),
    k: random.uniform(-0.5, 0.5),
  }));
  const grain = benchGrain(makeRandom(`bench ${level}`));
  return (x, y) => {
    let sum = level + grain(x, y) + slope[0] * (x - 0.5) + slope[1] * (y - 0.5);
    for (const stain of stains) {
      sum += stain.k * Math.exp(-((x - stain.x) ** 2 + (y - stain.y) ** 2) / stain.r ** 2);
    }
    return sum;
  };
}
