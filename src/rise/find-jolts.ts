// rise: frames of a burst → which of them belong together, and which show the board elsewhere or something else.
import type { OptionsOf } from "../core/options.js";
import type { Raster } from "../core/raster.js";
import { median, SIGMA_PER_MAD } from "../numeric/median.js";
import { type Cells, cellsOf, placesOf } from "./frame-places.js";

/** Defaults of `findJolts`. */
export const JOLT_DEFAULTS = Object.freeze({
  /** A frame this far from the others blurs them, px; smaller movements cost less than the frame is worth. */
  mostShiftPx: 0.25,
  /** … and it must be this many times the error of its place. */
  shiftSigma: 6,
  /** A frame with this share of its cells beyond `oddSigma` of its neighbours shows something else: a hand, a
   *  shutter. */
  oddShare: 0.1,
  oddSigma: 6,
  /** With fewer frames nobody can say which one is the odd one. */
  leastFrames: 4,
});

/** A frame that does not fit the others. */
export interface OddFrame {
  /** Place in the burst, from 0. */
  readonly index: number;
  /** Distance from the frames that were kept, px; null where it does not show the same scene. */
  readonly shiftPx: number | null;
}

/** Result of `findJolts`. */
export interface BurstMembers {
  /** Frames that belong together, by their place in the burst, rising. */
  readonly kept: readonly number[];
  readonly odd: readonly OddFrame[];
}

/** Neighbouring cells of a band-passed picture say the same: every third is enough to count strange ones. */
const CELL_STRIDE = 3;

/** Find the frames of a burst that do not fit the others.
 *  A board that was touched during the burst jumps between two frames: the places of the frames, by the displacement
 *  that explains their edges best (Lucas & Kanade 1981, from memory), are cut into stretches at such jumps, stretches
 *  at one place are joined, and the largest group is kept. A frame that differs from both its neighbours over a good
 *  part of the picture is left out as well. Heat moves edges little and slowly, and pixels that changed by more than
 *  the edge under them could are given little weight.
 *  @param frames °C, one shape, in their order; not modified.
 */
export function findJolts(
  frames: readonly Raster<"degC">[],
  options: OptionsOf<typeof JOLT_DEFAULTS> = {},
): BurstMembers {
  const o = { ...JOLT_DEFAULTS, ...options };
  const all = frames.map((_, k) => k);
  if (frames.length < o.leastFrames) return { kept: all, odd: [] };
  const cells = cellsOf(frames);
  const places = placesOf(cells);
  const groups = groupPlaces(places.x, places.y, Math.max(o.mostShiftPx, o.shiftSigma * places.sigmaPx));
  const main = largestGroup(groups);
  const still = all.filter((k) => groups[k] === main);
  const strange = still.length < o.leastFrames ? [] : strangeFrames(cells, still, o.oddSigma, o.oddShare);
  const x = median(still.map((k) => places.x[k]!));
  const y = median(still.map((k) => places.y[k]!));
  const odd = all.flatMap((index): OddFrame[] => {
    if (strange.includes(index)) return [{ index, shiftPx: null }];
    if (groups[index] === main) return [];
    return [{ index, shiftPx: Math.hypot(places.x[index]! - x, places.y[index]! - y) }];
  });
  return { kept: still.filter((k) => !strange.includes(k)), odd };
}

/** Frames that differ from what their neighbours let expect over a good part of the picture. */
function strangeFrames(
  cells: Cells,
  members: readonly number[],
  oddSigma: number,
  oddShare: number,
): number[] {
  const last = members.length - 1;
  const misfit = new Float32Array(Math.ceil((cells.width * cells.height) / CELL_STRIDE));
  const measure = (n: number): void => {
    const end = n === 0 || n === last;
    const before = cells.frame(members[n === 0 ? 1 : n - 1]!);
    const frame = cells.frame(members[n]!);
    const after = cells.frame(members[n === 0 ? 2 : n === last ? last - 2 : n + 1]!);
    const [u, v] = end ? [2, -1] : [0.5, 0.5];
    // In units of one frame's noise.
    const gain = 1 / Math.sqrt(1 + u * u + v * v);
    for (let i = 0, m = 0; i < frame.length; i += CELL_STRIDE, m++) {
      misfit[m] = gain * Math.abs(frame[i]! - u * before[i]! - v * after[i]!);
    }
  };
  // Measured twice, for the misfits of a long burst are too many to keep.
  const scratch = new Float64Array(misfit.length);
  const medians = members.map((_, n) => {
    measure(n);
    return median(misfit, scratch);
  });
  const limit = oddSigma * SIGMA_PER_MAD * median(medians);
  const shares = members.map((_, n) => {
    measure(n);
    let count = 0;
    for (const value of misfit) if (value > limit) count++;
    return count / misfit.length;
  });
  // A strange frame makes its neighbours look strange: only the worst of three is one.
  return members.filter((_, n) => {
    const share = shares[n]!;
    return share >= oddShare && share >= (shares[n - 1] ?? 0) && share >= (shares[n + 1] ?? 0);
  });
}

/** Number the places: frames between two jumps are one stretch; stretches at one place are one group. */
function groupPlaces(x: readonly number[], y: readonly number[], limitPx: number): number[] {
  const stretches: number[][] = [];
  for (let n = 0; n < x.length; n++) {
    const jump = n > 0 && Math.hypot(x[n]! - x[n - 1]!, y[n]! - y[n - 1]!) > limitPx;
    if (n === 0 || jump) stretches.push([]);
    stretches[stretches.length - 1]!.push(n);
  }
  const centres = stretches.map(
    (members) => [median(members.map((n) => x[n]!)), median(members.map((n) => y[n]!))] as const,
  );
  const groups = new Array<number>(x.length).fill(-1);
  let next = 0;
  stretches.forEach((members, s) => {
    const near = centres.findIndex(
      (centre, other) =>
        other < s && Math.hypot(centre[0] - centres[s]![0], centre[1] - centres[s]![1]) <= limitPx,
    );
    const group = near < 0 ? next++ : groups[stretches[near]![0]!]!;
    for (const n of members) groups[n] = group;
  });
  return groups;
}

/** The group with the most frames; the earlier one of equals. */
function largestGroup(groups: readonly number[]): number {
  const counts = new Map<number, number>();
  for (const group of groups) counts.set(group, (counts.get(group) ?? 0) + 1);
  return [...counts].sort((a, b) => b[1] - a[1] || a[0] - b[0])[0]?.[0] ?? 0;
}
