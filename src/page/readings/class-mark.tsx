// page: what a reading was judged to be → a shape and a word, so that colour alone tells nothing.
import type { ReadingClass } from "../../readings/classify-reading.js";
import { CLASS_WORDS } from "../../report/job-words.js";

const TONES: Readonly<Record<ReadingClass, string>> = {
  short: "bad",
  low: "warn",
  asExpected: "good",
  high: "warn",
  open: "bad",
  drifting: "warn",
  unjudged: "",
};
/** Lines in a square of 12. */
const SHAPES: Readonly<Record<ReadingClass, string>> = {
  short: "M1 1h10v10h-10z",
  low: "M6 1v9M2 6l4 4 4-4",
  asExpected: "M2 6l3 4 6-8",
  high: "M6 11V2M2 6l4-4 4 4",
  open: "M0 6h4M8 6h4M4 3v6M8 3v6",
  drifting: "M0 7c2-6 4-6 6 0s4 6 6 0",
  unjudged: "M2 6h8",
};

/** The mark of a reading. */
export function ClassMark({ of }: { readonly of: ReadingClass }) {
  return (
    <span class={`chip ${TONES[of]} class-mark`}>
      <svg viewBox="-1 -1 14 14" width="13" height="13" aria-hidden="true">
        <path class={of === "short" ? "full" : ""} d={SHAPES[of]} />
      </svg>
      {CLASS_WORDS[of]}
    </span>
  );
}
