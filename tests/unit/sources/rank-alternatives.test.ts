import { describe, expect, it } from "vitest";
import type { CandidatePool } from "../../../src/sources/candidate-pool.js";
import { rankAlternatives } from "../../../src/sources/rank-alternatives.js";
import type { Candidate } from "../../../src/sources/source-model.js";

const [A, B, C, D] = ["A", "B", "C", "D"].map((ref) => ({ ref }) as Candidate) as [
  Candidate,
  Candidate,
  Candidate,
  Candidate,
];

/** A pool in which each set explains what is written of it; others must not be asked for. */
const poolOf = (gains: Readonly<Record<string, number>>): CandidatePool =>
  ({
    gainOf: (set: readonly Candidate[]) => {
      const gain = gains[set.map(({ ref }) => ref).join("")];
      if (gain === undefined) throw new RangeError(`${set.map(({ ref }) => ref)} is no set to be tried`);
      return gain;
    },
  }) as unknown as CandidatePool;

describe("rankAlternatives", () => {
  it("puts every other candidate in the source's place, beside those that stay", () => {
    const ranked = rankAlternatives(poolOf({ BA: 100, BC: 90, BD: 40 }), [D, C, A], [B], 2);
    expect(ranked).toEqual([
      { candidate: A, loss: 0 },
      { candidate: C, loss: 5 },
      { candidate: D, loss: 30 },
    ]);
  });

  it("one that explains more than the source comes before it, and the source loses against it", () => {
    const ranked = rankAlternatives(poolOf({ BA: 100, BC: 120, BD: 40 }), [A, C, D], [B], 1);
    expect(ranked.map(({ candidate, loss }) => [candidate.ref, loss])).toEqual([
      ["C", 0],
      ["A", 20],
      ["D", 80],
    ]);
  });
});
