// page: the attempt that is about to be made → analysed by the server before it is asked for.
import { useEffect, useRef } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { AttemptBody } from "./attempt-body.js";

/** What was just typed may go on, ms. */
const TYPING_MS = 400;

/** Have an attempt analysed ahead as soon as it stays the same for a moment.
 *  @param body of the attempt; null: nothing is to be analysed yet.
 *  @param typedMs when something was last typed, by `performance.now()`. */
export function useAnalyseAhead(job: string, body: AttemptBody | null, typedMs: number): void {
  const asked = useRef("");
  const key = body === null ? "" : JSON.stringify(body);
  useEffect(() => {
    if (body === null || key === asked.current) return undefined;
    const timer = setTimeout(
      () => {
        asked.current = key;
        // Nobody waits for it: what is wrong is told when the attempt is made.
        callApi("analyseAhead", { job, body }).catch(() => {});
      },
      Math.max(0, typedMs + TYPING_MS - performance.now()),
    );
    return () => clearTimeout(timer);
  }, [job, key]);
}
