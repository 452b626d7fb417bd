// page: a job and whether good boards count → what each attempt is held against the one before it.
import { useEffect, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { JobState } from "../../api/jobs-schema.js";
import { announceError } from "../state/announce.js";

/** Comparisons of attempts that follow each other. With the profile of healthy boards they come with the job; without
 *  it they are asked for.
 */
export function useComparisons(state: JobState, withHealthy: boolean): JobState["comparisons"] {
  const [without, setWithout] = useState<JobState["comparisons"] | null>(null);
  useEffect(() => {
    if (withHealthy) {
      setWithout(null);
      return undefined;
    }
    let isGone = false;
    const load = async (): Promise<void> => {
      const all: JobState["comparisons"] = [];
      for (const { before, after } of state.comparisons) {
        const { comparison, error } = await callApi("compare", {
          job: state.id,
          before,
          after,
          healthy: "no",
        });
        all.push({ before, after, comparison, reason: error?.problem ?? null });
      }
      if (!isGone) setWithout(all);
    };
    load().catch(announceError);
    return () => {
      isGone = true;
    };
  }, [state.id, state.seal, withHealthy]);
  if (withHealthy || without === null) return state.comparisons;
  // Of an attempt that has just come, what came with the job stands until it is compared.
  return state.comparisons.map(
    (one) => without.find(({ before, after }) => before === one.before && after === one.after) ?? one,
  );
}
