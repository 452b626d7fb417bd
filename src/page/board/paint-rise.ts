// page: baseline, rise and significance on a grid → a picture: grey, and colour where the rise is significant.
import { riseColour } from "../../report/colour-scale.js";
import { greyWords } from "./paint-grey.js";

/** What is painted. */
export interface PaintInput {
  readonly width: number;
  readonly height: number;
  /** °C, K and sigma on the same grid; NaN = no reading. */
  readonly baseline: Float32Array;
  readonly rise: Float32Array;
  readonly significance: Float32Array;
}

/** How it is painted. */
export interface PaintOptions {
  /** Colour begins where significance reaches this … */
  readonly leastSigma: number;
  /** … and where the rise reaches this, K: a board that is warm as a whole stands out nowhere, and is warm all the
   *  same. */
  readonly leastRiseK: number;
  /** Rises of the first and the last colour, K. */
  readonly scaleK: { readonly low: number; readonly high: number };
  /** Temperatures of the darkest and the lightest grey, °C. */
  readonly greyC: { readonly low: number; readonly high: number } | null;
  readonly isDark: boolean;
}

const STEPS = 256;
/** Line round what is coloured, so that a faint colour is not lost on grey for an eye without colour. */
const CONTOUR = Object.freeze({ light: [84, 46, 20], dark: [255, 236, 190] } as const);
/** On a dark page the scale runs from violet up to amber, so that the hottest is lightest; the deepest violet would not
 *  stand out of the dark and is left out. */
const DARK_SPAN = 0.82;

/** Colours of a rise from the first to the last, red, green and blue. */
export function riseColourOn(share: number, isDark: boolean): readonly [number, number, number] {
  return riseColour(isDark ? DARK_SPAN * (1 - share) : share);
}

/** Paint the picture into memory that is given, so that a redraw makes no rubbish.
 *  @param into width × height pixels, as words 0xAABBGGRR; overwritten.
 */
export function paintRise(input: PaintInput, options: PaintOptions, into: Uint32Array): void {
  const { width, baseline, rise, significance } = input;
  const { leastSigma, leastRiseK, scaleK, greyC, isDark } = options;
  const { greys, colours, contour } = isDark ? DARK : LIGHT;
  const greyScale = greyC === null ? 0 : (STEPS - 1) / (greyC.high - greyC.low || 1);
  const lowC = greyC?.low ?? 0;
  const riseScale = (STEPS - 1) / (scaleK.high - scaleK.low || 1);
  const lowK = scaleK.low;
  const size = into.length;
  // 0 is what is clear; no colour is 0, since all are opaque.
  for (let i = 0; i < size; i++) {
    const value = rise[i]!;
    if (value >= leastRiseK || (value > 0 && significance[i]! >= leastSigma)) {
      const step = (value - lowK) * riseScale + 0.5;
      into[i] = colours[step <= 0 ? 0 : step >= STEPS ? STEPS - 1 : step | 0]!;
    } else into[i] = 0;
  }
  // The ring goes where colour touches what has none; it is kept apart until all neighbours were asked.
  const rings = ringOf(into, width);
  for (let i = 0; i < size; i++) {
    if (into[i] !== 0) continue;
    const value = baseline[i]!;
    if (!(value * 0 === 0)) continue;
    const step = (value - lowC) * greyScale + 0.5;
    into[i] = greys[step <= 0 ? 0 : step >= STEPS ? STEPS - 1 : step | 0]!;
  }
  for (const i of rings) into[i] = contour;
}

/** Pixels that are coloured and touch one that is not; the edge of the picture is no such one. */
function ringOf(coloured: Uint32Array, width: number): number[] {
  const ring: number[] = [];
  const last = coloured.length - width;
  for (let i = 0, column = 0; i < coloured.length; i++) {
    if (
      coloured[i] !== 0 &&
      ((column > 0 && coloured[i - 1] === 0) ||
        (column < width - 1 && coloured[i + 1] === 0) ||
        (i >= width && coloured[i - width] === 0) ||
        (i < last && coloured[i + width] === 0))
    ) {
      ring.push(i);
    }
    if (++column === width) column = 0;
  }
  return ring;
}

/** Find the smallest and the largest rise that is coloured, K; null where none is. */
export function shownRange(
  { rise, significance }: Pick<PaintInput, "rise" | "significance">,
  { leastSigma, leastRiseK }: Pick<PaintOptions, "leastSigma" | "leastRiseK">,
): { low: number; high: number } | null {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < rise.length; i++) {
    const value = rise[i]!;
    if (!(value >= leastRiseK || (value > 0 && significance[i]! >= leastSigma))) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  if (!(high > 0)) return null;
  // A single value everywhere would be a scale without extent: it starts at 0 then.
  return { low: low < high ? low : 0, high };
}

function word([red, green, blue]: readonly [number, number, number]): number {
  return ((255 << 24) | (blue << 16) | (green << 8) | red) >>> 0;
}

const LIGHT = wordsOf(false);
const DARK = wordsOf(true);

/** All colours of a page, as words of memory. */
function wordsOf(isDark: boolean): { greys: Uint32Array; colours: Uint32Array; contour: number } {
  const colours = Uint32Array.from({ length: STEPS }, (_, step) =>
    word(riseColourOn(step / (STEPS - 1), isDark)),
  );
  return {
    greys: greyWords(isDark ? "dark" : "light"),
    colours,
    contour: word(isDark ? CONTOUR.dark : CONTOUR.light),
  };
}
