// page: a paste into a field of the readings → the values in it, noted in the job.

import { callApi } from "../../api/call-api.js";
import { countOf } from "../../core/count-of.js";
import { capitalised } from "../../core/sentence-case.js";
import type { Measure } from "../../readings/reading-schema.js";
import { announce, announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import type { TypedPlace } from "./read-place.js";
import { sayDone } from "./say-done.js";
import { type Filling, takePasted } from "./take-pasted.js";

/** Note what was pasted. A single value, or words without a table, go into the field as they are.
 *  @param places rows that a column without places fills, the first one first. */
export function sayPasted(
  event: ClipboardEvent,
  job: string,
  places: readonly TypedPlace[],
  measure: Measure,
  filling: Filling,
): void {
  const text = event.clipboardData?.getData("text/plain") ?? "";
  try {
    const taken = takePasted(text, places, measure, filling);
    if (taken === null) return;
    event.preventDefault();
    const assumed = taken.assumed.map((words) => `${capitalised(words)}.`);
    if (taken.lines.length === 0) {
      if (assumed.length > 0) announce(assumed.join(" "), true);
      return;
    }
    callApi("say", { job, body: { said: [...taken.lines] } }).then((answer) => {
      sayDone([`${countOf(taken.lines.length, "value")} taken.`, ...assumed].join(" "), answer);
      void refreshJob();
    }, announceError);
  } catch (error) {
    event.preventDefault();
    announceError(error);
  }
}
