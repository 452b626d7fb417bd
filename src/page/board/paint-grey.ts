// page: temperatures → quiet greys, for light pages and for dark ones.
import type { Raster } from "../../core/raster.js";
import { evenStride } from "../../numeric/even-stride.js";
import { greyColour, srgbFromOklab } from "../../report/colour-scale.js";

/** A painted picture: red, green, blue, opacity per pixel. */
export interface PaintedGrey {
  readonly rgba: Uint8ClampedArray<ArrayBuffer>;
  /** Temperatures of the darkest and the lightest grey, °C; null if nothing has a reading. */
  readonly greyC: { readonly low: number; readonly high: number } | null;
}

/** What greys lie on: a page with something drawn over them, or nothing. */
export type GreyGround = "light" | "dark" | "alone";

/** Share of pixels left out at either end, so that one hot pixel does not darken the rest. */
const TAIL = 0.01;
/** On a dark page greys stay dark, so that the board glares less than the rise; narrow, as the light ones are. */
const DARK_LIGHTNESS = Object.freeze({ cold: 0.2, warm: 0.42 });
const STEPS = 256;

/** A frame by itself has nothing over it: it uses the whole range, on light pages and dark ones. */
const ALONE_LIGHTNESS = Object.freeze({ cold: 0.2, warm: 0.95 });

/** Opaque greys from the coldest to the warmest, as the words of a pixel in memory: 0xAABBGGRR. */
export function greyWords(on: GreyGround): Uint32Array {
  const words = new Uint32Array(STEPS);
  for (let step = 0; step < STEPS; step++) {
    const share = step / (STEPS - 1);
    const { cold, warm } = on === "alone" ? ALONE_LIGHTNESS : DARK_LIGHTNESS;
    const lightness = cold + share * (warm - cold);
    const [red, green, blue] = on === "light" ? greyColour(share) : srgbFromOklab(lightness, 0, 0);
    words[step] = ((255 << 24) | (blue << 16) | (green << 8) | red) >>> 0;
  }
  return words;
}

/** So many values tell the ends of the greys well enough; sorting all of them takes longer than drawing. */
const MOST_VALUES = 16_384;

/** Find the ends of the greys, from values spread evenly over the picture.
 *  @param width of the picture whose rows the values are.
 */
export function greyRange(data: Float32Array, width: number): { low: number; high: number } | null {
  const stride = evenStride(data.length, width, MOST_VALUES);
  const some = Float32Array.from({ length: Math.ceil(data.length / stride) }, (_, i) => data[i * stride]!);
  const sorted = some.filter((value) => value * 0 === 0).sort();
  if (sorted.length === 0) return null;
  const tail = Math.floor(sorted.length * TAIL);
  return { low: sorted[tail]!, high: sorted[sorted.length - 1 - tail]! };
}

/** Paint temperatures in grey; pixels without a reading stay clear. */
export function paintGrey(frame: Omit<Raster<"degC">, "unit">, on: GreyGround): PaintedGrey {
  const { width, height, data } = frame;
  const rgba = new Uint8ClampedArray(width * height * 4);
  const greyC = greyRange(data, width);
  if (greyC === null) return { rgba, greyC };
  const words = greyWords(on);
  const out = new Uint32Array(rgba.buffer);
  const scale = (STEPS - 1) / (greyC.high - greyC.low || 1);
  for (let i = 0; i < out.length; i++) {
    const value = data[i]!;
    if (!(value * 0 === 0)) continue;
    const step = (value - greyC.low) * scale;
    out[i] = words[step <= 0 ? 0 : step >= STEPS - 1 ? STEPS - 1 : Math.round(step)]!;
  }
  return { rgba, greyC };
}
