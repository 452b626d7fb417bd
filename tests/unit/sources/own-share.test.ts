import { describe, expect, it } from "vitest";
import type { SetFit } from "../../../src/sources/candidate-pool.js";
import { ownShare } from "../../../src/sources/own-share.js";
import type { ProjectedFit } from "../../../src/sources/projected-fit.js";
import type { Candidate } from "../../../src/sources/source-model.js";

/** A fit whose columns are pictures of four pixels. */
const fit = {
  heat: (columns: readonly number[][], amounts: Float64Array) =>
    Float32Array.from([0, 1, 2, 3], (i) =>
      columns.reduce((sum, column, k) => sum + column[i]! * amounts[k]!, 0),
    ),
} as unknown as ProjectedFit;
const heats = { kind: "heat" } as Candidate;
const mirrors = { kind: "mirror" } as Candidate;

function answerOf(
  starts: readonly number[],
  columns: readonly number[][],
  amounts: readonly number[],
): SetFit {
  return { starts, columns, amounts: Float64Array.from(amounts) } as unknown as SetFit;
}

describe("ownShare", () => {
  it("is the most of own ÷ others where the own rise is above half its peak", () => {
    // Own: 0, 1, 4, 2.1. The others: 5, 0.1, 2, 0.5. At the second pixel the share would be 10, but its own is a
    // fringe.
    const answer = answerOf(
      [0, 1],
      [
        [2.5, 0.05, 1, 0.25],
        [0, 0.5, 2, 1.05],
      ],
      [2, 2],
    );
    const { share, othersK } = ownShare(fit, answer, [heats, heats], 1);
    expect(share).toBeCloseTo(4.2, 6);
    expect(othersK).toBeCloseTo(0.5, 6);
  });

  it("takes all columns of a source, and of the others all that heat", () => {
    // The first has a plate and a body; of the other two one mirrors.
    const answer = answerOf(
      [0, 2, 3],
      [
        [1, 1, 0, 0],
        [0, 3, 0, 0],
        [9, 9, 9, 9],
        [2, 2, 2, 2],
      ],
      [1, 1, 1, 1],
    );
    const { share, othersK } = ownShare(fit, answer, [heats, mirrors, heats], 0);
    expect([share, othersK]).toEqual([2, 2]);
    expect(ownShare(fit, answer, [heats, mirrors, heats], 2).share).toBeCloseTo(2 / 1e-6, -3);
  });

  it("of a source without any rise is none", () => {
    const answer = answerOf(
      [0, 1],
      [
        [1, 2, 3, 4],
        [1, 1, 1, 1],
      ],
      [1, 0],
    );
    expect(ownShare(fit, answer, [heats, heats], 1)).toEqual({ share: 0, othersK: 0 });
  });
});
