// page: the suspects of an attempt → those that are shown, in the list and on the board alike.
import type { JobState } from "../../api/jobs-schema.js";
import { isShown } from "../../report/is-shown.js";

type Findings = JobState["attempts"][number]["findings"];

/** Suspects that are shown, in their order. */
export function shownSuspects({ suspects }: Findings): Findings["suspects"] {
  return suspects.filter(isShown);
}
