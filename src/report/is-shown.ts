// report: which suspects a reader is shown; the rest stands in the table of the report and in the JSON.
import type { Suspect } from "../findings/findings-schema.js";

/** What is less likely than this is not shown, unless its heat was measured. */
const LEAST_PROBABILITY = 0.01;

/** Whether a suspect is marked on pictures and named in short lists. */
export function isShown({ probability, powerW }: Pick<Suspect, "probability" | "powerW">): boolean {
  return probability >= LEAST_PROBABILITY || powerW !== null;
}
