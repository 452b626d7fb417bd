// simulate: a board as the camera sees it → which parts heat, and in what proportion.
import { applyTo, type Camera } from "./camera.js";
import type { KindSettings } from "./kinds.js";
import { gapBetween } from "./polygons.js";
import type { Random } from "./random.js";
import type { Part, TrueBoard } from "./scene.js";

/** A part that will heat; `share` is relative to the fault's watts. */
export interface Chosen {
  readonly part: Part;
  readonly share: number;
  readonly fault: boolean;
  /** When it begins to heat, s from power-on; 0 if not said. */
  readonly onsetS?: number;
}

/** Choose the parts that heat.
 *  A part whose centre lies within 2.5 px (or 1.2 mm) of a neighbour's is not chosen: no picture could tell the
 *  two apart by place. Behind the board the limit is 4 px (or 3 mm).
 *  @returns null if this board has no fitting part: draw another.
 */
export function chooseSources(
  random: Random,
  board: TrueBoard,
  camera: Camera,
  side: "top" | "bottom",
  settings: KindSettings,
): Chosen[] | null {
  if (settings.sources === "none") return [];
  const seen = board.parts.filter((part) => part.side === side);
  if (settings.sources === "pair") return choosePair(random, seen, camera);
  const hidden = settings.sources === "behind" || (settings.sources === "either-side" && random.chance(0.5));
  const from = hidden ? board.parts.filter((part) => part.side !== side) : seen;
  const [limitPx, limitMm] = settings.unlisted ? [6, 3] : hidden ? [4, 3] : [2.5, 1.2];
  const fitting = from.filter(
    (part) => mayFail(part, camera) && standsApart(part, from, camera, limitPx, limitMm),
  );
  const weighted = fitting.filter(
    (part) => part.kind !== "shield" || (settings.peakK !== null && random.chance(0.2)),
  );
  if (weighted.length === 0) return null;
  const joined = settings.cycled && random.chance(0.3) ? "warm" : joinedBy(random, settings);
  if (joined === "none") return [{ part: random.pick(weighted), share: 1, fault: true }];
  if (joined === "fault") return chooseApart(random, weighted, camera);

  const warm = seen.filter((part) => part.normallyWarm);
  const beside = weighted.filter(
    (part) => part.kind !== "shield" && warm.every((w) => gapBetween(part.polygon, w.polygon) > 1),
  );
  if (warm.length === 0 || beside.length === 0) return null;
  const heating = warm.length > 1 && random.chance(0.4) ? [random.pick(warm)] : warm;
  return [
    { part: random.pick(beside), share: 1, fault: true },
    ...heating.map((part, i) => ({
      part,
      share: random.logUniform(1.5, 6) * (i === 0 ? 1 : 0.7),
      fault: false,
    })),
  ];
}

/** What heats beside the fault: parts that are warm on a healthy board too, a second fault, or nothing. */
function joinedBy(random: Random, settings: KindSettings): "warm" | "fault" | "none" {
  if (settings.onsets) return random.pick(["warm", "warm", "fault", "none"] as const);
  return settings.sources === "warm" ? "warm" : "none";
}

/** Two faults that lie well apart: 8 px at least. */
function chooseApart(random: Random, parts: readonly Part[], camera: Camera): Chosen[] | null {
  const a = random.pick(parts);
  const far = parts.filter((b) => distancePx(a, b, camera) >= 8);
  if (far.length === 0) return null;
  return [
    { part: a, share: 1, fault: true },
    { part: random.pick(far), share: random.logUniform(0.5, 2), fault: true },
  ];
}

/** Two parts whose edges are about a millimetre apart and whose centres differ by 2.5 px at least. */
function choosePair(random: Random, seen: readonly Part[], camera: Camera): Chosen[] | null {
  const pairs: [Part, Part][] = [];
  for (const [i, a] of seen.entries()) {
    for (const b of seen.slice(i + 1)) {
      if (!mayFail(a, camera) || !mayFail(b, camera) || a.kind === "shield" || b.kind === "shield") continue;
      const gap = gapBetween(a.polygon, b.polygon);
      if (gap > 0.4 && gap < 1.6 && distancePx(a, b, camera) >= 2.5) pairs.push([a, b]);
    }
  }
  if (pairs.length === 0) return null;
  const [a, b] = random.pick(pairs);
  return [
    { part: a, share: 1, fault: true },
    { part: b, share: random.logUniform(0.5, 2), fault: true },
  ];
}

/** Connectors seldom short, warm parts are no faults, and a part under a pixel is beyond the camera. */
function mayFail(part: Part, camera: Camera): boolean {
  return !part.normallyWarm && part.kind !== "connector" && Math.max(...part.sizeMm) / camera.mmPerPx >= 1.2;
}

function standsApart(
  part: Part,
  others: readonly Part[],
  camera: Camera,
  limitPx: number,
  limitMm: number,
): boolean {
  return others.every(
    (other) =>
      other === part ||
      (distancePx(part, other, camera) >= limitPx &&
        Math.hypot(part.centerMm[0] - other.centerMm[0], part.centerMm[1] - other.centerMm[1]) >= limitMm),
  );
}

function distancePx(a: Part, b: Part, camera: Camera): number {
  const p = applyTo(camera.boardToFrame, ...a.centerMm);
  const q = applyTo(camera.boardToFrame, ...b.centerMm);
  return Math.hypot(p[0] - q[0], p[1] - q[1]);
}
