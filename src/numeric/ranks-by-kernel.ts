// numeric: many numbers, some of them NaN → the ones of a rank, by the compiled kernels.
import type { Address } from "./kernel-exports.js";
import { type Kernels, keptKernels, MOST_FOR_KERNELS, newOwner, roomyKernels } from "./kernels.js";
import type { Numbers } from "./median.js";

/** Fewer are found faster where they are. */
const LEAST_FOR_KERNELS = 512;
/** How the kernels are told that numbers are of double precision, and that their distances from one are meant. */
const DOUBLES = 2;
const DISTANCES = 1;

/** The kernels write somewhat beyond the last, numbers. */
const BEYOND = 48;
/** Most that a number takes, with that of the work on it, bytes; and what all of it takes beside, in numbers. */
const BYTES_EACH = 16;
const MORE = BEYOND + 8;

const OWNER = newOwner();

/** Numbers in the kernels' memory, of which those of a rank can be asked for, again and again. */
export class RanksByKernel {
  /** Those that are not NaN. */
  count: number;
  private readonly work: Address;
  private readonly found: Address;
  private centre: number | null = null;

  /** @param from where they lie; not modified. @param kind 0 of single precision, 2 of double. */
  constructor(
    private readonly kernels: Kernels,
    private readonly from: Address,
    private readonly n: number,
    private readonly kind = 0,
  ) {
    this.work = kernels.take(8 * (n + BEYOND));
    this.found = kernels.take(16);
    this.count = kernels.run.countNumbers(from, n, kind);
  }

  /** From now on their distances from one number. */
  takeDistances(from: number): void {
    this.centre = from;
    if (Number.isFinite(from)) return;
    // From an infinite number an equal one has no distance.
    const { kernels, n } = this;
    const numbers = this.kind === DOUBLES ? kernels.doubles(this.from, n) : kernels.floats(this.from, n);
    this.count = 0;
    for (const value of numbers) if (!Number.isNaN(value - from)) this.count++;
  }

  /** The number of a rank from 0, and the next larger (1) or smaller (−1) in rank; NaN where there is none. */
  at(rank: number, next: 1 | -1): readonly [number, number] {
    const { kernels, from, n, count, work, found } = this;
    const kind = this.centre === null ? this.kind : this.kind + DISTANCES;
    kernels.run.findRank(from, n, kind, this.centre ?? 0, count, rank, next, work, found);
    const [value, neighbour] = kernels.doubles(found, 2);
    return [value!, neighbour!];
  }
}

/** Put many numbers into the kernels' memory, where they lie until the next place is taken there; null where they are
 *  few, too many, or there are no kernels.
 *  @param values not modified.
 */
export function ranksByKernel(values: Numbers): RanksByKernel | null {
  const n = values.length;
  if (n < LEAST_FOR_KERNELS || n > MOST_FOR_KERNELS) return null;
  // Whoever asks for a median may hold the shared kernels: behind what is taken there, or in a memory of their own,
  // whose pages nobody has touched yet.
  const kernels =
    roomyKernels(BYTES_EACH * (n + MORE)) ?? keptKernels("order", OWNER, () => {})?.clear() ?? null;
  if (kernels === null) return null;
  const start = kernels.take(0);
  const ranks = values instanceof Float32Array ? singleRanks(kernels, values) : doubleRanks(kernels, values);
  kernels.giveBack(start);
  return ranks;
}

function singleRanks(kernels: Kernels, values: Float32Array): RanksByKernel {
  return new RanksByKernel(kernels, kernels.put(values), values.length);
}

function doubleRanks(kernels: Kernels, values: Exclude<Numbers, Float32Array>): RanksByKernel {
  const from = kernels.take(8 * values.length);
  kernels.doubles(from, values.length).set(values);
  return new RanksByKernel(kernels, from, values.length, DOUBLES);
}
