// suspects: frames that show no fault → the measurement that is most likely to bring one to light.
import { formatPowerSize } from "../core/format-quantity.js";
import { expectedGain } from "./expected-gain.js";
import type { Advice } from "./next-measurement.js";

/** What is known where nothing was found. */
export interface NothingFound {
  readonly viewSide: "top" | "bottom" | null;
  /** Both sides have been looked at. */
  readonly bothSides: boolean;
  /** Watts fed in, and fewest watts that would have been found in a part; null where not known. */
  readonly fedW: number | null;
  readonly smallestW: number | null;
  /** Reflections seen, and the share of the board in view under shiny faces. */
  readonly reflections: number;
  readonly shinyShare: number;
  /** The shiny part that hides most; null without one. */
  readonly shiniest: string | null;
}

/** Power fed of less than so many times the smallest that would have been found may well be too little. */
const FAINT_TIMES = 3;
/** What may be the case before the next look, as weights: no fault; one too faint, by what was fed; one on the other
 *  side; one under a shiny face, by how much of them there is. Judged by eye, no source. */
const WEIGHTS = Object.freeze({
  none: 0.25,
  faint: { unknown: 0.35, little: 0.6, enough: 0.08 },
  far: 0.2,
  hidden: { reflection: 0.4, byShare: 0.4 },
});
/** How likely each measurement shows a fault that is: none, too faint, on the other side, under a shiny face. Twice the
 *  current, four times the power, brings out most faint ones; a face with tape on it shows itself. */
const SHOWS = Object.freeze({
  current: [0.02, 0.8, 0.2, 0.2],
  otherSide: [0.02, 0.1, 0.9, 0.2],
  tape: [0.02, 0.05, 0.02, 0.9],
});
/** Measurements that promise about as much are ordered by how much trouble they are, bits. */
const ABOUT_BITS = 0.03;

/** Choose the next look where no fault shows: more power, the other side, or tape on what shines. */
export function whereToLook(n: NothingFound): Advice {
  const weights = [WEIGHTS.none, faintWeight(n), n.bothSides ? 0 : WEIGHTS.far, hiddenWeight(n)];
  const gain = (shows: readonly number[]) =>
    expectedGain(
      weights,
      shows.map((p) => [p, 1 - p]),
    );
  const options = [
    { gainBits: gain(SHOWS.current), possible: true, sentence: sayCurrent(n) },
    { gainBits: gain(SHOWS.tape), possible: n.shiniest !== null || n.reflections > 0, sentence: sayTape(n) },
    { gainBits: gain(SHOWS.otherSide), possible: !n.bothSides, sentence: sayOtherSide(n) },
  ].filter(({ possible }) => possible);
  const most = Math.max(...options.map(({ gainBits }) => gainBits));
  const { sentence, gainBits } = options.find((option) => option.gainBits >= most - ABOUT_BITS)!;
  return { sentence, gainBits };
}

function faintWeight({ fedW, smallestW }: NothingFound): number {
  if (fedW === null || smallestW === null) return WEIGHTS.faint.unknown;
  return fedW < FAINT_TIMES * smallestW ? WEIGHTS.faint.little : WEIGHTS.faint.enough;
}

function hiddenWeight({ reflections, shinyShare }: NothingFound): number {
  return reflections > 0 ? WEIGHTS.hidden.reflection : WEIGHTS.hidden.byShare * shinyShare;
}

function sayCurrent({ fedW, smallestW }: NothingFound): string {
  const lead = "Raise the current in small steps below the rail's nominal voltage and capture again";
  if (fedW === null || smallestW === null) return `${lead}: nothing stood out of the noise.`;
  return `${lead}: ${formatPowerSize(fedW)} went in, and a part must take some ${formatPowerSize(smallestW)} to be found.`;
}

function sayTape({ shiniest }: NothingFound): string {
  return shiniest === null
    ? "Put matte tape on the shiny parts and capture again: they show the room and may hide a rise."
    : `Put matte tape on ${shiniest} and capture again: its shiny face shows the room and may hide a rise.`;
}

function sayOtherSide({ viewSide, fedW, smallestW }: NothingFound): string {
  const other = viewSide === null ? "other" : viewSide === "top" ? "bottom" : "top";
  const lead = `Capture the ${other} side`;
  if (fedW === null || smallestW === null) return `${lead}: this one shows no fault.`;
  return `${lead}: ${formatPowerSize(fedW)} went in, and on this side a part with ${formatPowerSize(smallestW)} would have been found.`;
}
