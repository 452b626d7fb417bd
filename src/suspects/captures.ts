// suspects: what is open about a hotspot → the captures that could settle it, each with what it would show and why.
import { formatSignificant } from "../core/format-quantity.js";
import type { Hypothesis, OpenQuestion } from "./open-question.js";
import { alikeAfter, alikeByPlace, distanceMm } from "./separation.js";

/** A way to capture again. */
export interface Capture {
  /** Order of trouble: what is less of it comes first where two settle about as much. */
  readonly cost: number;
  readonly possible: (q: OpenQuestion) => boolean;
  /** How often the one would be taken for the other in it, as a share of how often it would be taken for itself: 0 =
   *  never, 1 = as often, and the capture does not tell them apart. Symmetric. */
  readonly alike: (q: OpenQuestion, a: Hypothesis, b: Hypothesis) => number;
  /** The advice with its reason, for the two that it parts best; `a` is a part. */
  readonly say: (q: OpenQuestion, a: Hypothesis, b: Hypothesis) => string;
}

/** Blur of optics and pixels, px. */
const BLUR_PX = 1.2;
/** How far heat spreads in a tenth of a second, the first frame of usual cameras, on a plate of 9.2·10⁻⁶ m²/s (worked
 *  plate): √(2αt), mm; and the share of the later peak that is there by then (it grows with the logarithm of the time;
 *  rounded). */
const EARLY_WIDTH_MM = 1.4;
const EARLY_SHARE = 0.3;
/** Below this many times the noise a rise is called faint … */
const FAINT = 12;
/** … and above this its place is held by uneven copper (5 % of the width) more than by noise (1.2 ÷ the ratio). */
const STRONG = 24;
/** A thing and an error of a faint rise's noise are parted by a better ratio; of a strong one they are not. */
const doubtByNoise = (q: OpenQuestion, faint: number, strong: number) =>
  q.significance < FAINT ? faint : strong;

/** How alike a part and what is no part are in a capture; two that are no parts stay as they are. */
function alikeToRest(
  a: Hypothesis,
  b: Hypothesis,
  table: { readonly mirror: number; readonly doubt: number; readonly unnamed: number | null },
  placed: () => number,
): number | null {
  const other = [a, b].find((h) => h.kind !== "part");
  if (other === undefined) return null;
  if (a.kind !== "part" && b.kind !== "part")
    return a.kind === "mirror" || b.kind === "mirror" ? table.mirror : 1;
  if (other.kind === "unnamed") return table.unnamed ?? placed();
  return other.kind === "mirror" ? table.mirror : table.doubt;
}

/** All captures there are. What each would show:
 *  - more current, or more frames: the ratio to the noise doubles; a reflection does not grow with the current. Of no
 *    use where noise is the lesser part of the doubt.
 *  - switching on and off: the ratio triples, and neither drift nor reflection follows the rhythm. For faint rises.
 *  - a burst from power-on: the spot is as narrow as heat has spread in a tenth of a second, and fainter.
 *  - from half the distance: blur and pixels halve on the board, the heat's own width stays; the ratio doubles.
 *  - matte tape on what shines: its face shows its own warmth.
 *  - the other side: a part on it shows itself; parts in view are seen through the board, worse than now; a reflection
 *    is not seen at all.
 */
export const CAPTURES: readonly Capture[] = Object.freeze([
  {
    cost: 2,
    possible: (q) => q.significance < STRONG,
    alike: (q, a, b) => {
      const placed = () => alikeAfter(q, a, b, { ...q, significance: 2 * q.significance });
      const table = { mirror: 0.5, doubt: doubtByNoise(q, 0.3, 0.9), unnamed: null };
      return alikeToRest(a, b, table, placed) ?? placed();
    },
    say: (q, a, b) =>
      `Average more frames, or raise the current in small steps below the rail's nominal voltage: the rise stands ${times(q)} above the noise, which is too little to tell ${a.ref} from ${name(b)}.`,
  },
  {
    cost: 3,
    possible: (q) => !q.isCycled && q.significance < FAINT,
    alike: (q, a, b) => {
      const placed = () => alikeAfter(q, a, b, { ...q, significance: 3 * q.significance });
      return alikeToRest(a, b, { mirror: 0.2, doubt: 0.2, unnamed: null }, placed) ?? placed();
    },
    say: (q, a, b) =>
      `Switch the supply on and off in a steady rhythm, below the rail's nominal voltage, and analyse with --cycle: the rise stands only ${times(q)} above the noise, and what follows the rhythm tells ${a.ref} from ${name(b)}.`,
  },
  {
    cost: 3,
    possible: (q) => !q.isBurst,
    alike: (q, a, b) => {
      const widthMm = Math.min(q.widthMm, Math.hypot(BLUR_PX * q.mmPerPx, EARLY_WIDTH_MM));
      const early = { ...q, widthMm, significance: EARLY_SHARE * q.significance };
      const placed = () => alikeAfter(q, a, b, early);
      return alikeToRest(a, b, { mirror: 0.5, doubt: 0.6, unnamed: null }, placed) ?? placed();
    },
    say: (_, a, b) => {
      const lead = "Capture a short burst from power-on";
      if (b.kind === "mirror") return `${lead}: heat of ${a.ref} grows from then on, a reflection does not.`;
      if (b.kind === "doubt") {
        return `${lead}: before uneven copper has spread the heat it shows whether ${a.ref} is where it begins.`;
      }
      return `${lead}: ${apart(a, b)} and can be told apart before the heat has spread.`;
    },
  },
  {
    cost: 4,
    possible: () => true,
    alike: (q, a, b) => {
      // What is told apart by its pixels already stays as open as it is.
      const placed = () => (isResolved(q, distanceMm(a, b)) ? 1 : alikeAfter(q, a, b, closer(q)));
      const rest = isResolved(q, 2 * (a.kind === "part" ? a : b).radiusMm) ? 1 : 0.8;
      return alikeToRest(a, b, { mirror: rest, doubt: rest, unnamed: null }, placed) ?? placed();
    },
    say: (q, a, b) =>
      b.kind === "part" || b.kind === "unnamed"
        ? `Capture again from closer: ${apart(a, b)}, which is ${formatSignificant(distanceMm(a, b) / q.mmPerPx, 2)} pixels in this picture.`
        : `Capture again from closer: ${a.ref} is only ${formatSignificant((2 * a.radiusMm) / q.mmPerPx, 2)} pixels wide in this picture.`,
  },
  {
    cost: 5,
    possible: (q) =>
      q.hypotheses.some((h) => h.kind === "mirror" || (h.shiny && (q.bothSides || h.side === q.viewSide))),
    alike: (_, a, b) => {
      const table = { mirror: 0.1, doubt: 0.95, unnamed: 0.95 };
      return alikeToRest(a, b, table, () => 1) ?? (a.shiny === b.shiny ? 1 : 0.4);
    },
    say: (_, a, b) => {
      const face = a.shiny || b.ref === null ? a.ref : b.ref;
      return b.kind === "mirror"
        ? `Put matte tape on ${face} and capture again: it then shows its own warmth and no reflection.`
        : `Put matte tape on ${face} and capture again: its finish is shiny, and only with tape on it can it be told from ${a.ref === face ? name(b) : a.ref}.`;
    },
  },
  {
    cost: 6,
    possible: (q) => !q.bothSides,
    alike: (q, a, b) => {
      const hidden = a.side !== q.viewSide || b.side !== q.viewSide;
      const rest = { mirror: hidden ? 0.1 : 0.3, doubt: hidden ? 0.3 : 0.5, unnamed: hidden ? 0.2 : 0.6 };
      const known = alikeToRest(a, b, rest, () => 1);
      if (known !== null) return known;
      if (a.side !== b.side) return 0.1;
      if (a.side !== q.viewSide) return Math.max(0.1, alikeByPlace(a, b, q.mmPerPx));
      const through = { ...q, widthMm: 2 * q.widthMm, significance: 0.5 * q.significance };
      return alikeAfter(q, a, b, through);
    },
    say: (q, a, b) => sayOtherSide(q, a, b),
  },
] satisfies Capture[]);

/** Things so many blurs apart, or so wide, are shown as what they are; halving the blur shows no more. At five standard
 *  deviations two Gaussian spots overlap by exp(−25/8) = 4 % (`OVERLAP` of separation.ts). */
const RESOLVED_BLURS = 5;

function isResolved(q: OpenQuestion, mm: number): boolean {
  return mm > RESOLVED_BLURS * BLUR_PX * q.mmPerPx;
}

function closer(q: OpenQuestion) {
  const blurMm = BLUR_PX * q.mmPerPx;
  const ownMm = Math.sqrt(Math.max(0, q.widthMm ** 2 - blurMm ** 2));
  return {
    widthMm: Math.min(q.widthMm, Math.hypot(ownMm, blurMm / 2)),
    significance: 2 * q.significance,
    mmPerPx: q.mmPerPx / 2,
  };
}

function sayOtherSide(q: OpenQuestion, a: Hypothesis, b: Hypothesis): string {
  const other = q.viewSide === "top" ? "bottom" : "top";
  const lead = `Capture the ${other} side`;
  if (b.kind === "part" && a.side !== b.side) {
    return `${lead}: ${a.ref} and ${b.ref} lie on different sides, and the side of the source shows it sharper.`;
  }
  if (b.kind === "part") {
    return a.side === other
      ? `${lead}: ${a.ref} and ${b.ref} both lie there, and through the board they show as one blur.`
      : `${lead}: it shows ${a.ref} and ${b.ref} once more, without their faces.`;
  }
  if (b.kind === "mirror") {
    return `${lead}: heat of ${a.ref} shows through the board, a reflection does not.`;
  }
  return a.side === other
    ? `${lead}: ${a.ref} lies there, and only its own side shows whether it is warm itself.`
    : `${lead}: the named parts on this side explain the heat poorly.`;
}

function name(h: Hypothesis): string {
  if (h.ref !== null) return h.ref;
  if (h.kind === "mirror") return "a reflection";
  return h.kind === "unnamed" ? "a place beside it that the map does not name" : "noise and uneven copper";
}

function apart(a: Hypothesis, b: Hypothesis): string {
  const mm = formatSignificant(distanceMm(a, b), 2);
  return b.ref === null
    ? `${a.ref} and the centre of the heat lie ${mm} mm apart`
    : `${a.ref} and ${b.ref} lie ${mm} mm apart`;
}

function times(q: OpenQuestion): string {
  return `${formatSignificant(q.significance, 2)} times`;
}
