import { expect, it } from "vitest";
import { hasSettled } from "../../../src/numeric/has-settled.js";

it("asks less of the last step, and takes none that is no number", () => {
  expect([0.9, 1, 9].map((length) => hasSettled(length, 1, false))).toEqual([true, false, false]);
  expect([9, 10, Number.NaN].map((length) => hasSettled(length, 1, true))).toEqual([true, false, false]);
});
