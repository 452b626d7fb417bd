// sources: rise and the heat found → faces that no map names and that stayed cool on a board that warmed.
import type { OptionsOf } from "../core/options.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { labelComponents } from "../numeric/label-components.js";
import { markCool } from "../numeric/pixel-errors.js";
import type { Picture } from "./picture.js";
import { stepsAround } from "./steps-around.js";

/** Defaults of `coolFaces`. */
export const COOL_FACE_DEFAULTS = Object.freeze({
  /** The board warmed for certain where the heat found is this many sigma of a pixel. */
  warmSigma: 8,
  /** A pixel stayed cool where it shows less than this share of that heat. */
  coolShare: 0.55,
  /** Smoothing before that is judged, px. */
  smoothPx: 0.8,
  /** Faces of fewer pixels bend nothing. */
  fewestPixels: 10,
  /** Where the blur of a face's edge ends, and the ring around that is compared with it, px. */
  blurPx: 2,
  ringPx: 3,
  /** Share of the heat by which the ring shows more than the face: a plate that cools with distance has no such
   *  edge. */
  edgeShare: 0.3,
});

/** Find the faces off all named parts that show little of the heat around them: cans, pads and labels that mirror the
 *  room hide what is under them. A rise that falls off with distance differs: it has no edge.
 *  @param rise K per pixel of all pictures, NaN = no reading; not modified.
 *  @param heat K found there, plate and bodies, nuisance left aside; not modified.
 *  @param variance K², NaN = left out; not modified.
 *  @param onFace 1 = on the face of a named part.
 *  @returns 1 = on such a face or in the blur of its edge.
 */
export function coolFaces(
  rise: Float32Array,
  heat: Float32Array,
  variance: Float32Array,
  onFace: Uint8Array,
  pictures: readonly Picture[],
  options: OptionsOf<typeof COOL_FACE_DEFAULTS> = {},
): Uint8Array {
  const o = { ...COOL_FACE_DEFAULTS, ...options };
  const out = new Uint8Array(rise.length);
  for (const { seen, offset } of pictures) {
    const { width, height } = seen;
    const size = width * height;
    const valid = new Float32Array(size).fill(Number.NaN);
    for (let i = 0, k = offset; i < size; i++, k++) {
      if (variance[k]! > 0 && onFace[k] === 0) valid[i] = rise[k]!;
    }
    const shown = gaussianFilter(valid, width, height, o.smoothPx);
    const ofView = (all: Float32Array) => all.subarray(offset, offset + size);
    const cool = markCool(shown, ofView(heat), ofView(variance), o.warmSigma, o.coolShare);
    const { labels, count } = labelComponents(cool, width, height, 4);
    for (let label = 1; label <= count; label++) {
      const own = pixelsOf(labels, label);
      if (own.length < o.fewestPixels) continue;
      const near = stepsAround(own, width, height, o.blurPx + o.ringPx);
      const ring = [...near].filter(([, steps]) => steps > o.blurPx).map(([i]) => i);
      // Its rim alone: what falls off with distance shows little far from where it starts to.
      const rim = [...stepsAround(ring, width, height, 2 * o.blurPx + o.ringPx).keys()];
      const face = shareShown(
        rim.filter((i) => labels[i] === label),
        valid,
        heat,
        offset,
      );
      // Where nothing around it has a reading no edge is seen, and nothing told.
      if (!(shareShown(ring, valid, heat, offset) - face >= o.edgeShare)) continue;
      near.forEach((distance, i) => {
        if (distance <= o.blurPx) out[offset + i] = 1;
      });
    }
  }
  return out;
}

function pixelsOf(labels: Int32Array, label: number): number[] {
  const out: number[] = [];
  for (let i = 0; i < labels.length; i++) if (labels[i] === label) out.push(i);
  return out;
}

/** Share of the heat that some pixels show. */
function shareShown(
  pixels: readonly number[],
  shown: Float32Array,
  heat: Float32Array,
  offset: number,
): number {
  let [seen, expected] = [0, 0];
  for (const i of pixels) {
    if (!(shown[i]! * 0 === 0)) continue;
    seen += shown[i]!;
    expected += heat[offset + i]!;
  }
  return expected > 0 ? seen / expected : Number.NaN;
}
