import { describe, expect, it } from "vitest";
import { keepSame } from "../../../../src/page/state/keep-same.js";

const state = () => ({
  seal: "a",
  attempts: [
    { number: 1, views: [{ side: "top", at: [3, 4.5] }], remark: null as string | null },
    { number: 2, views: [], remark: null },
  ],
});

describe("keepSame", () => {
  it("gives the old value back where nothing has changed", () => {
    const before = state();
    expect(keepSame(before, state())).toBe(before);
  });

  it("takes what is new, and keeps every part that says the same", () => {
    const before = state();
    const after = { ...state(), seal: "b" };
    after.attempts.push({ number: 3, views: [], remark: null });
    after.attempts[1]!.remark = "warm";
    const made = keepSame(before, after);
    expect(made).toEqual(after);
    expect(made.attempts[0]).toBe(before.attempts[0]);
    expect(made.attempts[1]).not.toBe(before.attempts[1]);
    expect(made.attempts[1]!.views).toBe(before.attempts[1]!.views);
    // Neither is changed.
    expect(before).toEqual(state());
  });

  it("tells apart what is gone, null, and of another kind", () => {
    for (const [before, after] of [
      [{ a: 1, b: undefined }, { a: 1 }],
      [{ a: undefined }, { b: undefined }],
      [
        [1, 2, 3],
        [1, 2],
      ],
      [[], {}],
      [{ 0: "x" }, ["x"]],
      [{ a: null }, { a: {} }],
      [null, { a: 1 }],
      [{ a: 1 }, null],
      [{ a: -0 }, { a: 0 }],
    ] as const) {
      const made = keepSame(before, after);
      expect(made).toStrictEqual(after);
      expect(made).not.toBe(before);
    }
    // NaN is itself.
    const before = { a: Number.NaN };
    expect(keepSame(before, { a: Number.NaN })).toBe(before);
  });
});
