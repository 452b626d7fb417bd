// tests: a function → what it gives with the compiled kernels, and what it gives by the plain code.
import { expect } from "vitest";
import { makeKernels, sharedKernels, useKernels } from "../../../src/numeric/kernels.js";
import { watched } from "./kernel-calls.js";

/** Call it both ways. That kernels are called the one time and none the other is made sure of: else nothing would be
 *  held against anything. They stay switched off: `afterEach(() => useKernels(true))`. */
export function bothWays<T>(make: (withKernels: boolean) => T): [fast: T, plain: T] {
  useKernels(true);
  expect(sharedKernels()).not.toBeNull();
  const [fast, called] = watched(() => make(true));
  expect(called.size, "kernels called").toBeGreaterThan(0);
  useKernels(false);
  expect(sharedKernels()).toBeNull();
  expect(makeKernels()).toBeNull();
  const [plain, calledNow] = watched(() => make(false));
  expect([...calledNow]).toEqual([]);
  return [fast, plain];
}

/** Call it both ways; what the kernels give is, bit for bit, what the plain code gives. Returned for more questions. */
export function agreed<T>(make: () => T): T {
  const [fast, plain] = bothWays(make);
  // Zeros of either sign are told apart.
  expect(fast).toStrictEqual(plain);
  return fast;
}
