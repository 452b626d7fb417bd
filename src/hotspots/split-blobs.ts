// hotspots: significant area → one patch per peak, by flooding from the tops.
import { markedPlaces } from "../numeric/marked-places.js";

/** Places that fit beside a height in one key of 53 bits. */
const MOST_KEYED = 2 ** 21;
/** Sign bit of a float of 32 bits. */
const SIGN = 2 ** 31;

/** One patch of a significant area around one peak. */
export interface Patch {
  /** Index of the peak's pixel in the raster. */
  readonly peak: number;
  /** How far the peak stands above the pass to a higher one, K; its full height where there is none. */
  readonly prominenceK: number;
}

/** Divide the significant area into patches, one for every peak that stands clear of its neighbours.
 *  Pixels are taken from the warmest down; each joins the patch of its warmest neighbour (8-connected). Where two
 *  patches meet, the lower one is merged unless its top stands above the meeting point by more than its own noise
 *  allows. Areas that do not touch are never merged.
 *  Method: watershed by flooding with a prominence rule (Edelsbrunner, Letscher & Zomorodian 2002,
 *  doi 10.1007/s00454-002-2885-2, from memory).
 *  @param height what is compared, K, width×height; NaN is outside.
 *  @param mask 1 = significant; outside it nothing is labelled.
 *  @param minProminence K a peak must stand above the pass, for the pixel of the peak.
 *  @returns label per pixel (0 = none, n = patch n) and the patches, highest peak first.
 */
export function splitBlobs(
  height: Float32Array,
  mask: Uint8Array,
  width: number,
  minProminence: (peak: number) => number,
): { labels: Int32Array; patches: Patch[] } {
  const order = fromTheTop(height, mask);
  // The patch of each pixel, from 1 on, before any is merged; its rank in the end.
  const labels = new Int32Array(height.length);
  // parent[k]: the patch that patch k was merged into; peaks[k]: its top.
  const parent: number[] = [];
  const peaks: number[] = [];
  // mainland[k]: patches that touch form one land, whether kept apart or not; its highest peak stands for it.
  const mainland: number[] = [];
  const passes: number[] = [];
  const rootIn = (links: readonly number[], k: number): number => {
    let root = k;
    while (links[root] !== root) root = links[root]!;
    return root;
  };
  const rows = height.length / width;
  for (let n = 0; n < order.length; n++) {
    const i = order[n]!;
    const x = i % width;
    const y = (i - x) / width;
    let home = -1;
    let warmest = Number.NEGATIVE_INFINITY;
    for (let dy = -1; dy <= 1; dy++) {
      for (let dx = -1; dx <= 1; dx++) {
        const u = x + dx;
        const v = y + dy;
        if (u < 0 || v < 0 || u >= width || v >= rows) continue;
        const o = labels[v * width + u]! - 1;
        if (o < 0) continue;
        const root = rootIn(parent, o);
        if (home >= 0 && root !== home) meet(home, root, height[i]!);
        // Of patches kept apart, the pixel goes to that of its warmest neighbour.
        if (home < 0 || height[v * width + u]! > warmest) {
          home = root;
          warmest = height[v * width + u]!;
        }
        home = rootIn(parent, home);
      }
    }
    if (home < 0) {
      home = parent.length;
      parent.push(home);
      mainland.push(home);
      peaks.push(i);
      passes.push(Number.NaN);
    }
    labels[i] = home + 1;
  }
  return collect();

  /** Two patches touch at a level. The land with the lower top ends there: its top has found the pass to a higher
   *  one, and joins it unless it stands clear.
   */
  function meet(a: number, b: number, level: number): void {
    const landA = rootIn(mainland, a);
    const landB = rootIn(mainland, b);
    if (landA === landB) return;
    const [higher, lower] =
      height[peaks[landA]!]! >= height[peaks[landB]!]! ? [landA, landB] : [landB, landA];
    mainland[lower] = higher;
    passes[lower] = level;
    const touched = lower === landA ? b : a;
    if (height[peaks[lower]!]! - level < minProminence(peaks[lower]!))
      parent[lower] = rootIn(parent, touched);
  }

  function collect(): { labels: Int32Array; patches: Patch[] } {
    const roots = peaks.map((_, k) => k).filter((k) => parent[k] === k);
    roots.sort((a, b) => height[peaks[b]!]! - height[peaks[a]!]! || peaks[a]! - peaks[b]!);
    const rank = new Int32Array(peaks.length);
    roots.forEach((k, n) => {
      rank[k] = n + 1;
    });
    for (let n = 0; n < order.length; n++) {
      labels[order[n]!] = rank[rootIn(parent, labels[order[n]!]! - 1)]!;
    }
    const patches = roots.map((k) => ({
      peak: peaks[k]!,
      prominenceK: height[peaks[k]!]! - (Number.isNaN(passes[k]!) ? 0 : passes[k]!),
    }));
    return { labels, patches };
  }
}

/** Places of the mask from the highest down, equal ones in reading order. Sorted as numbers that hold height and place
 *  together, which needs no comparison in code of ours: a patch may be a third of the frame.
 */
function fromTheTop(height: Float32Array, mask: Uint8Array): Float64Array {
  if (height.length > MOST_KEYED) return comparedFromTheTop(height, mask);
  const bits = new Uint32Array(height.buffer, height.byteOffset, height.length);
  const size = height.length;
  const places = markedPlaces(mask);
  const keys = new Float64Array(places.length);
  let count = 0;
  for (let k = 0; k < places.length; k++) {
    const i = places[k]!;
    if (!(height[i]! * 0 === 0)) continue;
    // The bits of a float rise with it if the negative ones are turned round; −0 counts as 0.
    const b = height[i] === 0 ? 0 : bits[i]!;
    const rank = b < SIGN ? SIGN - 1 - b : b;
    keys[count++] = rank * size + i;
  }
  const order = keys.subarray(0, count).sort();
  for (let n = 0; n < count; n++) order[n]! %= size;
  return order;
}

/** The same for frames of more pixels than fit into a number beside 32 bits of height. */
function comparedFromTheTop(height: Float32Array, mask: Uint8Array): Float64Array {
  const places: number[] = [];
  for (let i = 0; i < height.length; i++) if (mask[i] === 1 && height[i]! * 0 === 0) places.push(i);
  return Float64Array.from(places.sort((a, b) => height[b]! - height[a]! || a - b));
}
