import { describe, expect, it } from "vitest";
import { analyse } from "../../../src/findings/analyse.js";
import { describeTimeDoubt } from "../../../src/findings/describe-time-doubt.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

const attempt = { ...makeAttempt({ watts: { U1: 0.21 }, seed: "known time" }), board: BOARD, view: VIEW };
const notesOf = (more: object): string[] =>
  analyse({ ...attempt, ...more }).findings.notes.map((one) => one.code);

describe("a told time that the frames contradict", () => {
  it("says what is seen, what was told, and what to check", () => {
    const likely = { kind: "rising", lengthMm: 4.8 } as const;
    const text = describeTimeDoubt({ toldS: 1200, likely, likelyS: 3.7, factor: 1e6 }, false);
    expect(text).toContain(
      "as it does some 4 s after power-on. 1200 s were told. Check --after: seconds, not minutes",
    );
    const rest = { kind: "steady", lengthMm: 26 } as const;
    const burst = describeTimeDoubt({ toldS: 0.61, likely: rest, likelyS: null, factor: 1e6 }, true);
    expect(burst).toContain("as on a board that has come to rest");
    expect(burst).toContain("Check --rate (frames per second)");
  });

  it("is noted, and a time that fits is not", () => {
    // The attempt is one of a board at rest.
    expect(notesOf({ afterS: 0.02 })).toContain("N_TIME_DOUBT");
    expect(notesOf({ afterS: 900 })).not.toContain("N_TIME_DOUBT");
    expect(notesOf({})).not.toContain("N_TIME_DOUBT");
  });
});
