// page: a line of the journal → the button that takes it back, which asks first where much would be lost by a slip.
import { useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import { announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { sayDone } from "./say-done.js";

interface WithdrawButtonProps {
  readonly job: string;
  /** Number of the line. */
  readonly seq: number;
  /** What it says, for whoever does not see where the button stands. */
  readonly text: string;
  /** Asked before it is done; null: done at once. */
  readonly question: string | null;
  /** After it: the button is gone then, and the focus wants another place. Absent where that is looked after
   *  elsewhere. */
  readonly onDone?: () => void;
}

/** Take a line back. */
export function WithdrawButton({ job, seq, text, question, onDone }: WithdrawButtonProps) {
  const [isAsked, setIsAsked] = useState(false);
  const [isBusy, setIsBusy] = useState(false);
  // Beside the state, which is drawn later than a second press can come.
  const underWay = useRef(false);
  const box = useRef<HTMLSpanElement>(null);
  const ask = (asked: boolean): void => {
    if (underWay.current) return;
    setIsAsked(asked);
    // Asked, the last button is the one that keeps: a key pressed twice withdraws nothing.
    requestAnimationFrame(() => box.current?.querySelector<HTMLElement>("button:last-of-type")?.focus());
  };
  const withdraw = async (): Promise<void> => {
    if (underWay.current) return;
    underWay.current = true;
    setIsBusy(true);
    try {
      const said = [{ type: "withdrawal" as const, seq, reason: "noted by mistake" }];
      const done = `Withdrawn: ${text}. It stays in the journal, and no longer counts.`;
      sayDone(done, await callApi("say", { job, body: { said } }));
      await refreshJob();
      onDone?.();
    } catch (error) {
      announceError(error);
    } finally {
      underWay.current = false;
      setIsBusy(false);
    }
  };
  return (
    <span class={isAsked ? "row asked" : "row"} ref={box}>
      {isAsked && <span class="small">{question}</span>}
      <button
        type="button"
        class="quiet small"
        aria-disabled={isBusy}
        aria-label={isAsked ? `Yes, withdraw: ${text}` : `Withdraw: ${text}`}
        onClick={() => (question === null || isAsked ? void withdraw() : ask(true))}
      >
        {isAsked ? "Yes, withdraw" : "Withdraw"}
      </button>
      {isAsked && (
        <button
          type="button"
          class="quiet small"
          aria-disabled={isBusy}
          aria-label={`Keep: ${text}`}
          onClick={() => ask(false)}
        >
          Keep
        </button>
      )}
    </span>
  );
}

/** Asked before an attempt is taken back. */
export const ATTEMPT_QUESTION =
  "Withdraw it? Its frames stay in the job's folder, but it no longer counts, and to have it again its frames have to be dropped again.";
