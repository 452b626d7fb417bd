// page: the attempts of a job → links to the answer of each.
import type { JobState } from "../../api/jobs-schema.js";
import { powerText } from "../../report/job-words.js";
import { sectionHash } from "../state/route.js";
import { showNumber } from "../state/settings.js";

/** Links from attempt to attempt; the board below stays where it is. */
export function AttemptTabs({ state, shown }: { readonly state: JobState; readonly shown: number }) {
  return (
    <nav class="attempt-tabs" aria-label="Attempts">
      {state.attempts.map((attempt) => {
        const { number, conditions } = attempt.attempt;
        const power = powerText(attempt);
        return (
          <a
            key={number}
            href={sectionHash(state.id, "answer", number)}
            aria-current={number === shown ? "page" : undefined}
          >
            Attempt {number}
            {conditions.healthy && <span class="chip">good board</span>}
            {power !== "" && <span class="dim small">{showNumber(power)}</span>}
          </a>
        );
      })}
    </nav>
  );
}
