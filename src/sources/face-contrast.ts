// sources: a face and a picture, the baseline or the rise → how far it stands out of the board around it.
import type { Polygon } from "../board/polygon.js";
import { gaussianFilter } from "../numeric/gaussian-filter.js";
import { median } from "../numeric/median.js";
import { peakOf } from "../numeric/pixel-errors.js";
import { coverageWindow } from "./coverage-window.js";
import type { Picture } from "./picture.js";

/** A pixel belongs to the face from this share of the best coverage, blurred by the optics, on. */
const FACE_SHARE = 0.8;
/** Pixels this little covered by a wider blur lie around the face. */
const RING_SHARES = [0.01, 0.12] as const;
/** Width of that blur, px. */
const RING_SIGMA_PX = 2;
/** A face of which the blur leaves less than this is not taken for larger still: noise would be raised with it. */
const LEAST_SEEN = 0.3;
/** Fewer pixels give no spread. */
const SPREAD_PX = 12;
/** Fewer pixels around give no level. */
const LEAST_RING_PX = 4;

/** Measure how far a face stands out of the baseline, K: its median minus the median around it, or half its own spread
 *  where that is larger, since a room mirrored unevenly may cross the board's own temperature.
 *  @returns null without a baseline, or where the face or its surroundings have too few pixels.
 */
export function faceContrast(picture: Picture, polygon: Polygon): number | null {
  return picture.scene === null ? null : mirrorContrast(contrastOf(picture, polygon, picture.scene));
}

function mirrorContrast(face: FaceStep | null): number | null {
  if (face === null) return null;
  return Math.abs(face.step) >= face.spread / 2 ? face.step : face.spread / 2;
}

/** How a face stands out in a picture. */
export interface FaceStep {
  /** Its median, and that minus the median around it. */
  readonly level: number;
  readonly step: number;
  /** From its 10th to its 90th percentile; 0 for faces of few pixels. */
  readonly spread: number;
  readonly pixels: number;
  /** Share of its own change that it shows through the blur: the step has been divided by it, and with it the noise. */
  readonly seen: number;
}

/** Measure how a face stands out in any picture in the same pixels.
 *  @param scene °C or K per pixel of the picture, NaN = no reading; not modified.
 *  @returns in the unit of the scene; null where face or surroundings have too few pixels.
 */
export function contrastOf(
  picture: Pick<Picture, "view" | "seen">,
  polygon: Polygon,
  scene: Float32Array,
): FaceStep | null {
  const pixels = facePixels(picture, polygon);
  if (pixels === null) return null;
  const face = readAt(scene, pixels.face);
  const ring = readAt(scene, pixels.ring);
  if (face.length === 0 || ring.length < LEAST_RING_PX) return null;
  const around = median(ring);
  face.sort();
  const at = (share: number) => face[Math.round(share * (face.length - 1))]!;
  // A small face is seen through the blur: what it shows is the larger for it.
  const seenShare = Math.max(LEAST_SEEN, pixels.most);
  const step = (at(0.5) - around) / seenShare;
  const spread = face.length < SPREAD_PX ? 0 : at(0.9) - at(0.1);
  return { level: at(0.5), step, spread, pixels: face.length, seen: seenShare };
}

/** Pixels on the board that see a face, and those around it; and the most that one of them sees of it. */
interface FacePixels {
  readonly face: Int32Array;
  readonly ring: Int32Array;
  readonly most: number;
}

/** By what is seen, and by the polygon: the baseline, the rise and the heat found are all read at the same pixels. */
const lastPixels = new WeakMap<Picture["seen"], Map<Polygon, FacePixels | null>>();

function facePixels({ view, seen }: Pick<Picture, "view" | "seen">, polygon: Polygon): FacePixels | null {
  const ofView = lastPixels.get(seen) ?? new Map<Polygon, FacePixels | null>();
  let known = ofView.get(polygon);
  if (known === undefined) {
    known = findPixels(view, seen, polygon);
    lastPixels.set(seen, ofView.set(polygon, known));
  }
  return known;
}

function findPixels(view: Picture["view"], seen: Picture["seen"], polygon: Polygon): FacePixels | null {
  const { width, height, onBoard, opticsSigmaPx } = seen;
  const window = coverageWindow(view, polygon, width, height, 4 * RING_SIGMA_PX);
  if (window === null) return null;
  const { coverage, width: w } = window;
  const inside = gaussianFilter(coverage, w, window.height, opticsSigmaPx);
  const near = gaussianFilter(coverage, w, window.height, RING_SIGMA_PX);
  const most = peakOf(inside);
  const face = new Int32Array(inside.length);
  const ring = new Int32Array(inside.length);
  let [faces, rings] = [0, 0];
  for (let k = 0; k < inside.length; k++) {
    const i = (window.y0 + Math.floor(k / w)) * width + window.x0 + (k % w);
    if (onBoard[i] === 0) continue;
    if (inside[k]! >= FACE_SHARE * most) face[faces++] = i;
    else if (coverage[k] === 0 && near[k]! > RING_SHARES[0] && near[k]! < RING_SHARES[1]) ring[rings++] = i;
  }
  return { face: face.slice(0, faces), ring: ring.slice(0, rings), most };
}

/** The readings at some pixels. */
function readAt(scene: Float32Array, pixels: Int32Array): Float32Array {
  const out = new Float32Array(pixels.length);
  let count = 0;
  for (const i of pixels) if (scene[i]! * 0 === 0) out[count++] = scene[i]!;
  return out.subarray(0, count);
}
