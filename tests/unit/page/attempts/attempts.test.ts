import { describe, expect, it } from "vitest";
import type { JobState } from "../../../../src/api/jobs-schema.js";
import { compareFindings } from "../../../../src/compare/compare-findings.js";
import { joinChanges } from "../../../../src/page/attempts/join-changes.js";
import { makeFindings } from "../../compare/make-findings.js";

const board = {
  regions: [
    {
      ref: "C6",
      side: "top",
      polygon: [
        [10, 5.5],
        [14, 5.5],
        [14, 8.5],
        [10, 8.5],
      ],
    },
  ],
};

/** An attempt as far as joining looks at it. */
function attempt(number: number, seq: number, map: unknown = board) {
  return { seq, at: "2026-03-09T14:05:00+01:00", attempt: { number }, board: map, views: [] };
}

function stateOf(attempts: readonly unknown[], actions: readonly unknown[] = []): JobState {
  return { attempts, actions } as unknown as JobState;
}

const C6 = { ref: "C6", powerW: 0.24 };
const U1 = { ref: "U1", powerW: 0.12 };
const gone = compareFindings(makeFindings({ heat: [C6, U1] }), makeFindings({ heat: [U1] }));

describe("joinChanges", () => {
  it("joins an attempt to the one before it, with what was done between them and what it came to", () => {
    const did = (seq: number, ref: string) => ({ seq, at: "", did: "replaced", ref });
    const state = stateOf(
      [attempt(1, 2), attempt(3, 7), attempt(4, 9)],
      [did(1, "U9"), did(4, "C6"), did(8, "U6")],
    );
    const joins = joinChanges(state, [{ before: 1, after: 3, comparison: gone, reason: null }]);
    expect(joins.map(({ before, after, done }) => [before, after, done])).toEqual([
      [1, 3, ["C6 replaced"]],
      [3, 4, ["U6 replaced"]],
    ]);
    expect(joins[0]!.verdict).toBe(gone.verdict);
    expect(joins[0]!.reason).toBeNull();
    // Those that no comparison is known of are not joined, and it is said why.
    expect(joins[1]).toMatchObject({ verdict: null, parts: [], reason: "they are of different boards" });
  });

  it("shows what changed, at its place on the board, and leaves out what is warm on every board and stays so", () => {
    const [join] = joinChanges(stateOf([attempt(1, 1), attempt(2, 2)]), [
      { before: 1, after: 2, comparison: gone, reason: null },
    ]);
    expect(gone.parts.map(({ ref }) => ref).sort()).toEqual(["C6", "U1"]);
    expect(join!.parts).toEqual([
      {
        ref: "C6",
        side: "top",
        change: "gone",
        words: "gone",
        at: [12, 7],
        why: gone.parts.find(({ ref }) => ref === "C6")!.why,
        powerW: gone.parts.find(({ ref }) => ref === "C6")!.powerW,
      },
    ]);
  });

  it("takes a part's place from the map that has it, and from none where no map does", () => {
    const compared = [{ before: 1, after: 2, comparison: gone, reason: null }];
    const at = (before: unknown, after: unknown) =>
      joinChanges(stateOf([attempt(1, 1, before), attempt(2, 2, after)]), compared)[0]!.parts[0]!.at;
    expect(at(board, { regions: [] })).toEqual([12, 7]);
    expect(at(null, board)).toEqual([12, 7]);
    expect(at(null, null)).toBeNull();
  });

  it("says why two attempts could not be compared", () => {
    const [join] = joinChanges(stateOf([attempt(1, 1), attempt(2, 2)]), [
      { before: 1, after: 2, comparison: null, reason: "one knows no board" },
    ]);
    expect(join).toMatchObject({ verdict: null, reason: "one knows no board", parts: [] });
  });

  it("has nothing to join where there is one attempt", () => {
    expect(joinChanges(stateOf([attempt(1, 1)]), [])).toEqual([]);
  });
});
