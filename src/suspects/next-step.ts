// suspects: the answer and what it leaves open → the next measurement, in one sentence.
import { formatSignificant } from "../core/format-quantity.js";
import { expectedGain } from "./expected-gain.js";
import { type Advice, chooseMeasurement } from "./next-measurement.js";
import type { OpenQuestion } from "./open-question.js";
import { type NothingFound, whereToLook } from "./where-to-look.js";

/** What the notes doubt of the frames themselves: one file in both roles; roles the wrong way round; a unit, scale or sitting
 *  that differs. */
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

/** What the next step is chosen from. */
export interface NextStepInput {
  /** Doubt of the frames themselves; null without one. */
  readonly doubt: FrameDoubt | null;
  readonly boardKnown: boolean;
  readonly hotspots: number;
  readonly aligned: boolean;
  /** It exceeds all heat that was found; null where nothing does. */
  readonly unmapped: UnmappedChange | null;
  /** What is open about the fault that is least settled; null where no fault shows. */
  readonly question: OpenQuestion | null;
  readonly nothing: NothingFound;
}

/** A part as probable as this is settled as far as a camera can: what is left is to measure it. */
const SETTLED = 0.85;
/** Above this chance a place that no region names is where to look. */
const MOSTLY = 0.5;
/** Chance that a reading at a part is out of the ordinary if it is the fault, and if it is not. */
const READING = [0.9, 0.1] as const;

/** Choose the next step: right frames where a doubt of them is all there is, aligned frames where there are
 *  none, a map where there is none, a fuller map where most of the change lies beside it, a look elsewhere where no fault shows, else what settles most of the doubt, or, once it is settled, the
 *  reading before anything is lifted.
 */
export function chooseNextStep(input: NextStepInput): Advice {
  const advice = chooseStep(input);
  if (input.unmapped === null || input.question === null || !input.aligned) return advice;
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
  if (input.doubt !== null && input.question === null) {
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
  const { question } = input;
  if (question === null) return input.unmapped === null ? whereToLook(input.nothing) : lookAt(input.unmapped);
  const unnamed = question.hypotheses.find((h) => h.kind === "unnamed");
  if (unnamed !== undefined && unnamed.probability > MOSTLY) {
    const [x, y] = unnamed.at;
    return {
      sentence: `Look what lies at ${x.toFixed(1)}, ${y.toFixed(1)} mm on the ${unnamed.side} side and add it to the board map: the heat is centred where the map names nothing.`,
      gainBits: null,
    };
  }
  const parts = question.hypotheses.filter((h) => h.kind === "part");
  const first = parts.reduce<(typeof parts)[number] | null>(
    (best, part) => (best === null || part.probability > best.probability ? part : best),
    null,
  );
  if (first === null) return whereToLook(input.nothing);
  const advice = first.probability >= SETTLED ? null : chooseMeasurement(question);
  if (advice !== null) return advice;
  return {
    sentence: `Before lifting ${first.ref}, read its power pins to ground with the supply off and compare with a good board.`,
    gainBits: expectedGain(
      question.hypotheses.map((h) => h.probability),
      question.hypotheses.map((h) => (h === first ? READING : [READING[1], READING[0]])),
    ),
  };
}
