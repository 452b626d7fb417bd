// compare: hotspots of two attempts → which of them are the same heat.
import { VIEW_SIGMA_PX } from "../board/view-error.js";
import type { Findings, Hotspot } from "../findings/findings-schema.js";
import { assignPairs } from "../numeric/assignment.js";
import { partAt, placeKey } from "./part-place.js";

/** χ² of two coordinates that one pair in a thousand exceeds: farther apart it is other heat … */
const GATE = 13.8;
/** … unless both attempts name one part with at least this chance: heat may shift within a part, and its distance then
 *  counts no more than this. */
const SAME_PART = 0.25;
const WITHIN_PART = 4;
/** Parts that an attempt does not list with a hotspot have at most this chance (its lists end at 0.002). */
const LEAST_CHANCE = 1e-3;
/** Where hotspots tell neither scale nor side, a pixel is as wide as this, mm: a board of 60 mm in 160 pixels. */
export const USUAL_MM_PER_PX = 0.4;

/** Two hotspots of one heat, or one alone. */
export interface MatchedHotspots {
  readonly before: Hotspot | null;
  readonly after: Hotspot | null;
  /** Between the places, in board mm (px where no board is known), and its standard uncertainty along a line; null
   *  alone. */
  readonly distance: number | null;
  readonly sigma: number | null;
  /** Chance that both speak for one named part. */
  readonly shared: number;
  /** … or both for none of them. */
  readonly overlap: number;
}

/** Match hotspots by place and by the parts they speak for: the pairing with the least total cost, where a pair is held
 *  against both staying alone. Order of the attempts is of no account.
 *  Method: `assignPairs` on χ² of the distance less twice the log of the chance that both name one part.
 *  @returns pairs and lone ones by rank, the earlier attempt's first.
 */
export function matchHotspots(before: Findings, after: Findings): MatchedHotspots[] {
  const rows = before.hotspots.length;
  const columns = after.hotspots.length;
  const pairs = before.hotspots.map((a) => after.hotspots.map((b) => comparePlaces(a, b, before, after)));
  // Each may stay alone: a square table with a column of its own for each row, and the other way round.
  const size = rows + columns;
  const costs = new Float64Array(size * size);
  for (let r = 0; r < size; r++) {
    for (let c = 0; c < size; c++) {
      const alone = r < rows ? c === columns + r : c >= columns || r === rows + c;
      costs[r * size + c] =
        r < rows && c < columns
          ? costOf(pairs[r]![c]!)
          : alone
            ? r < rows || c < columns
              ? GATE / 2
              : 0
            : Infinity;
    }
  }
  const { columnOfRow } = assignPairs(costs, size, size);
  const taken = new Set<number>();
  const out = before.hotspots.map((hotspot, r): MatchedHotspots => {
    const c = columnOfRow[r]!;
    if (c < 0 || c >= columns) return { ...ALONE, before: hotspot, after: null };
    taken.add(c);
    return { before: hotspot, after: after.hotspots[c]!, ...pairs[r]![c]! };
  });
  after.hotspots.forEach((hotspot, c) => {
    if (!taken.has(c)) out.push({ ...ALONE, before: null, after: hotspot });
  });
  return out;
}

const ALONE = { distance: null, sigma: null, shared: 0, overlap: 0 } as const;

type Pair = Pick<MatchedHotspots, "shared" | "overlap"> & {
  readonly distance: number;
  readonly sigma: number;
};

function costOf({ distance, sigma, shared, overlap }: Pair): number {
  const square = (distance / sigma) ** 2;
  const samePart = shared >= SAME_PART;
  if (square > GATE && !samePart) return Number.POSITIVE_INFINITY;
  return (
    Math.min(square, samePart ? WITHIN_PART : GATE) -
    2 * Math.log(Math.min(1, Math.max(overlap, LEAST_CHANCE)))
  );
}

function comparePlaces(a: Hotspot, b: Hotspot, before: Findings, after: Findings): Pair {
  const shared = sharedChance(a, b);
  const chances = { shared, overlap: shared + unnamedChance(a) * unnamedChance(b) };
  if (a.sourceMm === null || b.sourceMm === null) {
    const distance = Math.hypot(a.sourcePx[0] - b.sourcePx[0], a.sourcePx[1] - b.sourcePx[1]);
    // Heat spreads with time: a spot's centre is known no better than to a share of its width.
    const widths = [a, b].map(({ widthPx }) => 0.1 * (widthPx ?? 0));
    return {
      distance,
      sigma: Math.hypot(a.sourceSigmaPx, b.sourceSigmaPx, ...widths, VIEW_SIGMA_PX),
      ...chances,
    };
  }
  const distance = Math.hypot(a.sourceMm[0] - b.sourceMm[0], a.sourceMm[1] - b.sourceMm[1]);
  const viewMm = [
    [a, before],
    [b, after],
  ].map(([hotspot, findings]) => VIEW_SIGMA_PX * mmPerPx(hotspot as Hotspot, findings as Findings));
  return { distance, sigma: Math.hypot(ownSigmaMm(a), ownSigmaMm(b), ...viewMm), ...chances };
}

/** Uncertainty of a place but for the view's own: attempts may share a view, whose clicks then move both places alike,
 *  and what a view is off by counts as `VIEW_SIGMA_PX`. */
function ownSigmaMm({ sourceSigmaMm, viewSigmaMm }: Hotspot): number {
  return Math.sqrt(Math.max(0, (sourceSigmaMm ?? 0) ** 2 - (viewSigmaMm ?? 0) ** 2));
}

/** Scale of the view at a hotspot, by its own numbers or its attempt's. */
function mmPerPx(hotspot: Hotspot, { hotspots }: Findings): number {
  for (const { areaMm2, areaPx } of [hotspot, ...hotspots]) {
    if (areaMm2 !== null && areaPx > 0) return Math.sqrt(areaMm2 / areaPx);
  }
  return USUAL_MM_PER_PX;
}

/** Chance that two hotspots speak for one named part. */
function sharedChance(a: Hotspot, b: Hotspot): number {
  let sum = 0;
  for (const one of a.nearest) {
    const other = partAt(b.nearest, one);
    sum += one.probability * (other?.probability ?? LEAST_CHANCE);
  }
  return sum;
}

/** Chance that none of the named parts is its source. */
function unnamedChance({ nearest }: Hotspot): number {
  return Math.max(0, 1 - nearest.reduce((total, { probability }) => total + probability, 0));
}

/** Every part that may be the source of matched heat, with its probability from both attempts; the most probable first.
 *  What one attempt does not list has the least chance there.
 */
export function jointParts({
  before,
  after,
}: MatchedHotspots): { ref: string; side: "top" | "bottom"; probability: number }[] {
  const lists = [before, after].flatMap((hotspot) => (hotspot === null ? [] : [hotspot]));
  const chances = new Map<string, { ref: string; side: "top" | "bottom"; probability: number }>();
  for (const { ref, side } of lists.flatMap(({ nearest }) => nearest)) {
    const probability = lists.reduce((product, { nearest }) => {
      const own = partAt(nearest, { ref, side });
      return product * Math.max(own?.probability ?? 0, LEAST_CHANCE);
    }, 1);
    chances.set(placeKey({ ref, side }), { ref, side, probability });
  }
  const none = lists.reduce((product, hotspot) => product * unnamedChance(hotspot), 1);
  const sum = [...chances.values()].reduce((total, { probability }) => total + probability, none);
  return [...chances.values()]
    .map((part) => ({ ...part, probability: sum > 0 ? part.probability / sum : 0 }))
    .sort((a, b) => b.probability - a.probability || (a.ref < b.ref ? -1 : 1));
}
