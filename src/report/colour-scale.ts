// report: a share of the scale → a colour; one ramp for the rise, one grey for the baseline.
import { raiseTo } from "../core/raise-to.js";

/** Red, green, blue, 0…255. */
export type Rgb = readonly [number, number, number];

// The rise: from amber to a deep violet through red. Lightness falls all the way, so that an eye without colour still
// reads the order, and print in grey does too; the ends are set apart from the grey by chroma (amber) and by lightness
// (violet). Given in OKLCh: [lightness, chroma, hue°]; hues above 360 keep the turn through red short.
const RAMP_KNOTS: readonly (readonly [number, number, number])[] = [
  [0.85, 0.13, 440],
  [0.7, 0.175, 412],
  [0.56, 0.19, 388],
  [0.42, 0.165, 360],
  [0.28, 0.115, 320],
];
/** The baseline's greys: light and narrow, so that the rise is what is seen first and toner is spared. */
const GREY_LIGHTNESS = Object.freeze({ cold: 0.7, warm: 0.95 });
const STEPS = 256;
const FINE_STEPS = 4096;

/** The colours of the rise from the threshold (first) to the largest rise (last), at even distances in OKLab. */
export const RISE_COLOURS: readonly Rgb[] = evenRamp();

/** Colour of a rise.
 *  @param share 0 = where colour begins, 1 = the largest rise; held to that range.
 */
export function riseColour(share: number): Rgb {
  const held = Math.min(1, Math.max(0, share));
  return RISE_COLOURS[Math.round(held * (STEPS - 1))] as Rgb;
}

/** Grey of a baseline temperature.
 *  @param share 0 = coldest drawn, 1 = warmest drawn; held to that range.
 */
export function greyColour(share: number): Rgb {
  const held = Math.min(1, Math.max(0, share));
  knownGreys ??= Array.from({ length: FINE_STEPS + 1 }, (_, step) => greyAt(step / FINE_STEPS));
  const step = Math.floor(held * FINE_STEPS);
  const below = knownGreys[step];
  const above = knownGreys[step + 1] ?? below;
  // No channel falls as the share rises: between two equal greys there is no other.
  return below?.every((channel, i) => channel === above![i]) ? below : greyAt(held);
}

/** Greys at even steps, worked out once: a picture asks for half a million. */
let knownGreys: readonly Rgb[] | null = null;

function greyAt(share: number): Rgb {
  const { cold, warm } = GREY_LIGHTNESS;
  return srgbFromOklab(cold + share * (warm - cold), 0, 0);
}

/** Convert OKLab to 8-bit sRGB, held to the gamut channel by channel.
 *  Method: B. Ottosson, "A perceptual color space for image processing", 2020 (bottosson.github.io/posts/oklab);
 *  transfer curve of IEC 61966-2-1.
 */
export function srgbFromOklab(lightness: number, a: number, b: number): Rgb {
  const l = raiseTo(lightness + 0.3963377774 * a + 0.2158037573 * b, 3);
  const m = raiseTo(lightness - 0.1055613458 * a - 0.0638541728 * b, 3);
  const s = raiseTo(lightness - 0.0894841775 * a - 1.291485548 * b, 3);
  return [
    encode(4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s),
    encode(-1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s),
    encode(-0.0041960863 * l - 0.7034186147 * m + 1.707614701 * s),
  ];
}

/** A colour as `#rrggbb`. */
export function hexColour(colour: Rgb): string {
  return `#${colour.map((channel) => channel.toString(16).padStart(2, "0")).join("")}`;
}

function encode(linear: number): number {
  const held = Math.min(1, Math.max(0, linear));
  const curved = held <= 0.0031308 ? 12.92 * held : 1.055 * raiseTo(held, 1 / 2.4) - 0.055;
  return Math.round(curved * 255);
}

/** Walk the curve through the knots and take colours at even arc length, since even parameter is not even to the
 *  eye. */
function evenRamp(): Rgb[] {
  const points: [number, number, number][] = [];
  for (let i = 0; i <= FINE_STEPS; i++) points.push(oklabOnCurve(i / FINE_STEPS));
  const lengths = [0];
  for (let i = 1; i < points.length; i++) {
    const p = points[i]!;
    const q = points[i - 1]!;
    lengths.push(lengths[i - 1]! + Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]));
  }
  const total = lengths[FINE_STEPS]!;
  const colours: Rgb[] = [];
  let at = 0;
  for (let step = 0; step < STEPS; step++) {
    const wanted = (total * step) / (STEPS - 1);
    while (at < FINE_STEPS && lengths[at]! < wanted) at++;
    colours.push(srgbFromOklab(...points[at]!));
  }
  return colours;
}

/** Point on the ramp's curve: Catmull–Rom through the knots in OKLab, so that the hue turns without a kink. */
function oklabOnCurve(t: number): [number, number, number] {
  const knots = RAMP_KNOTS.map(([lightness, chroma, hueDeg]): [number, number, number] => {
    const hueRad = (hueDeg * Math.PI) / 180;
    return [lightness, chroma * Math.cos(hueRad), chroma * Math.sin(hueRad)];
  });
  const last = knots.length - 1;
  const segment = Math.min(last - 1, Math.floor(t * last));
  const u = t * last - segment;
  const p = (i: number): [number, number, number] => knots[Math.min(last, Math.max(0, segment + i))]!;
  const mix = (c: 0 | 1 | 2): number => {
    const [p0, p1, p2, p3] = [p(-1)[c], p(0)[c], p(1)[c], p(2)[c]];
    return (
      0.5 *
      (2 * p1 +
        (p2 - p0) * u +
        (2 * p0 - 5 * p1 + 4 * p2 - p3) * u ** 2 +
        (3 * p1 - p0 - 3 * p2 + p3) * raiseTo(u, 3))
    );
  };
  return [mix(0), mix(1), mix(2)];
}
