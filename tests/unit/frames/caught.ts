// tests: a call that must fail → the ToolError it throws.
import { ToolError } from "../../../src/core/errors.js";

/** Run something that must throw a ToolError; anything else that is thrown, or nothing, fails the test. */
export function caught(work: () => unknown): ToolError {
  try {
    work();
  } catch (error) {
    if (error instanceof ToolError) return error;
    throw error;
  }
  throw new Error("a ToolError was expected, but nothing was thrown");
}

/** The same for a promise. */
export async function caughtAsync(work: Promise<unknown>): Promise<ToolError> {
  const outcome = await work.then(
    () => null,
    (error: unknown) => error,
  );
  return caught(() => {
    if (outcome !== null) throw outcome;
  });
}
