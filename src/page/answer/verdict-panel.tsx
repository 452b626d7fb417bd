// page: findings and evidence → the verdict in one sentence, and the next measurement under it.
import type { JobState } from "../../api/jobs-schema.js";
import { showNumber } from "../state/settings.js";

/** Verdict and next measurement of an attempt. */
export function VerdictPanel({ attempt }: { readonly attempt: JobState["attempts"][number] }) {
  const { findings } = attempt;
  return (
    <div class="verdict">
      <h2>{showNumber(findings.verdict)}</h2>
      {findings.nextStep !== null && (
        <p class="next">
          <strong>Next:</strong> {showNumber(findings.nextStep)}
        </p>
      )}
    </div>
  );
}

/** What the whole job says, where it has more than this attempt. */
export function WholeJob({ state }: { readonly state: JobState }) {
  const { evidence } = state;
  if (evidence === null || (state.attempts.length < 2 && state.readings.length === 0)) return null;
  return (
    <section class="whole-job panel" aria-label="The whole job">
      <h2>The whole job says</h2>
      <p>{showNumber(evidence.verdict)}</p>
      <p>
        <strong>Next:</strong> {showNumber(evidence.next.sentence)}
      </p>
    </section>
  );
}
