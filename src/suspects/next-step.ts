// suspects: the answer and what it leaves open → the next measurement, in one sentence.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import { entropyBits, expectedGain } from "./expected-gain.js";
import { READING } from "./net-readings.js";
import { type Advice, chooseMeasurement } from "./next-measurement.js";
import type { Hypothesis, OpenQuestion } from "./open-question.js";
import { type NothingFound, whereToLook } from "./where-to-look.js";

/** What the notes doubt of the frames themselves: one file in both roles; roles the wrong way round; a unit, scale or
 *  sitting that differs. */
export type FrameDoubt = "same" | "swapped" | "everything";

/** What to do about it. */
const MEND_FRAMES: Readonly<Record<FrameDoubt, string>> = {
  same: "Give a powered frame that is not the baseline too: the same frame in both roles can show nothing.",
  swapped:
    "Check which frame was taken with power, and give them again that way round if they were exchanged.",
  everything:
    "Check unit and scale of both frames, or capture them again in one sitting: everything changed between them.",
};

/** A change that was taken for a mirrored one where the map names nothing. */
export interface UnmappedChange {
  /** Place, board mm. */
  readonly at: readonly [number, number];
  readonly side: "top" | "bottom";
  readonly riseK: number;
  /** The part that lies behind it on the other side; null without one. */
  readonly behind: string | null;
}

/** A change that is neither heat in this board nor a person who was mirrored. */
export interface StrangeChange {
  readonly px: readonly [number, number];
  readonly riseK: number;
}

/** A fault that shows, and what is open about it. */
export interface ShownFault {
  /** Rank of its hotspot. */
  readonly rank: number;
  readonly question: OpenQuestion;
}

/** What the next step is chosen from. */
export interface NextStepInput {
  /** Doubt of the frames themselves; null without one. */
  readonly doubt: FrameDoubt | null;
  readonly boardKnown: boolean;
  readonly hotspots: number;
  readonly aligned: boolean;
  /** The largest one; null without one. */
  readonly strange: StrangeChange | null;
  /** It exceeds all heat that was found; null where nothing does. */
  readonly unmapped: UnmappedChange | null;
  /** The faults that show, strongest first. */
  readonly faults: readonly ShownFault[];
  /** The parts that the verdict names, the first one first. */
  readonly named: readonly string[];
  readonly nothing: NothingFound;
}

/** A part as probable as this is settled as far as a camera can: what is left is to measure it. */
const SETTLED = 0.85;
/** Above this chance a place that no region names is where to look. */
const MOSTLY = 0.5;

/** Choose the next step: right frames where a doubt of them is all there is, aligned frames where there are
 *  none, a map where there is none, a fuller map where most of the change lies beside it, a look elsewhere where no
 *  fault shows, else what settles most of the doubt, or, once it is settled, the reading before anything is lifted.
 */
export function chooseNextStep(input: NextStepInput): Advice {
  const advice = chooseStep(input);
  if (input.unmapped === null || input.faults.length === 0 || !input.aligned) return advice;
  const unmapped = lookAt(input.unmapped).sentence;
  return { ...advice, sentence: `${advice.sentence} ${unmapped}`, unmapped };
}

/** What to do about a change that no part of the map is there for. */
function lookAt({ at: [x, y], side, riseK, behind }: UnmappedChange): Advice {
  const place = `${x.toFixed(1)}, ${y.toFixed(1)} mm`;
  const what = `what changed most (${formatSignificant(riseK, 2)} K)`;
  const sentence =
    behind === null
      ? `Look what lies at ${place} on the ${side} side, add it to the board map and analyse again: ${what} lies where the map names nothing, and was taken for something mirrored.`
      : `Capture the ${side === "top" ? "bottom" : "top"} side too: ${what}, at ${place}, lies on no part of the ${side} side but over ${behind}, and was taken for something mirrored.`;
  return { sentence, gainBits: null, unmapped: sentence };
}

function chooseStep(input: NextStepInput): Advice {
  if (input.doubt !== null && input.faults.length === 0) {
    return { sentence: MEND_FRAMES[input.doubt], gainBits: null };
  }
  if (!input.aligned && (input.boardKnown || input.hotspots > 0)) {
    return {
      sentence:
        "Capture baseline and powered frames again without touching board or camera: these two could not be aligned.",
      gainBits: null,
    };
  }
  if (!input.boardKnown && input.hotspots > 0) {
    return {
      sentence:
        "Draw the board over the baseline, in the section Board of the bench page or as a map and a view in files: then the hotspot gets a part's name.",
      gainBits: null,
    };
  }
  const open = leastSettled(input.faults);
  if (open === null) {
    if (input.hotspots === 0 && input.strange !== null) return tapeOver(input.strange);
    return input.unmapped === null ? whereToLook(input.nothing) : lookAt(input.unmapped);
  }
  const unnamed = open.question.hypotheses.find((h) => h.kind === "unnamed");
  if (unnamed !== undefined && unnamed.probability > MOSTLY) {
    const [x, y] = unnamed.at;
    return {
      sentence: `Look what lies at ${x.toFixed(1)}, ${y.toFixed(1)} mm on the ${unnamed.side} side and add it to the board map: the heat is centred where the map names nothing.`,
      gainBits: null,
    };
  }
  const first = likeliestPart(open);
  if (first === null) return beforeLiftingNamed(input) ?? whereToLook(input.nothing);
  const advice = first.probability >= SETTLED ? null : chooseMeasurement(open.question);
  if (advice !== null) return withReason(advice, open, first, input);
  // Nothing is left to a camera: what the verdict names first is measured first.
  return beforeLiftingNamed(input) ?? withReason(beforeLifting(open, first), open, first, input);
}

/** What tells heat that the map makes impossible from something mirrored. */
function tapeOver({ px: [x, y] }: StrangeChange): Advice {
  return {
    sentence: `Put matte tape on what lies at pixel (${x}, ${y}) and capture again: if it still changes, it heats, and the map's millimetres or its place in the frame are wrong; if not, it mirrored something.`,
    gainBits: null,
  };
}

/** The fault with the most doubt in it; of two alike the stronger one; null without any. */
function leastSettled(faults: readonly ShownFault[]): ShownFault | null {
  const bits = faults.map(({ question }) =>
    entropyBits(question.hypotheses.map(({ probability }) => probability)),
  );
  return faults[bits.indexOf(Math.max(...bits))] ?? null;
}

function likeliestPart({ question }: ShownFault): Hypothesis | null {
  return question.hypotheses
    .filter(({ kind }) => kind === "part")
    .reduce<Hypothesis | null>(
      (best, part) => (best === null || part.probability > best.probability ? part : best),
      null,
    );
}

function beforeLifting({ question: { hypotheses } }: ShownFault, part: Hypothesis): Advice {
  return {
    sentence: `Before lifting ${part.ref}, read its power pins to ground with the supply off and compare with a good board.`,
    gainBits: expectedGain(
      hypotheses.map((h) => h.probability),
      hypotheses.map((h) => (h === part ? READING : [READING[1], READING[0]])),
    ),
  };
}

/** The reading at the part that the verdict names first; null where no fault has that part for its likeliest. */
function beforeLiftingNamed({ faults, named }: NextStepInput): Advice | null {
  for (const fault of faults) {
    const part = likeliestPart(fault);
    if (part !== null && part.ref === named[0]) return beforeLifting(fault, part);
  }
  return null;
}

/** Advice that speaks of no part which the verdict names says why it is about another one. */
function withReason(
  advice: Advice,
  { rank }: ShownFault,
  { ref, probability }: Hypothesis,
  { faults, named }: NextStepInput,
): Advice {
  const words = advice.sentence.split(/[^\p{L}\p{N}_-]+/u);
  if (named.some((one) => one === ref || words.includes(one))) return advice;
  const sure = formatProbability(probability);
  const reason =
    faults.length > 1
      ? `Of what heats, hotspot ${rank} is the least settled; its likeliest source is ${ref} (${sure}).`
      : `Of the named parts ${ref} (${sure}) is the likeliest.`;
  return { ...advice, sentence: `${advice.sentence} ${reason}` };
}
