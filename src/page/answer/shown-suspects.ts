// page: the suspects of an attempt → those that are shown, in the list and on the board alike.
import type { JobState } from "../../api/jobs-schema.js";

type Findings = JobState["attempts"][number]["findings"];

/** What is less likely is left to the report, unless its heat was measured. */
const LEAST_PROBABILITY = 0.01;

/** Suspects that are shown, in their order. */
export function shownSuspects({ suspects }: Findings): Findings["suspects"] {
  return suspects.filter(({ probability, powerW }) => probability >= LEAST_PROBABILITY || powerW !== null);
}
