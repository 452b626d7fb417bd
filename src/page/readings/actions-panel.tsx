// page: what was done to the board, and remarks → a list, and a form to add to it.
import { useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { JobState } from "../../api/jobs-schema.js";
import { actionText, DEED_WORDS, momentText, oneLine } from "../../report/job-words.js";
import { announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { showNumber } from "../state/settings.js";
import { sayDone } from "./say-done.js";
import type { SaidLine } from "./take-pasted.js";
import { ATTEMPT_QUESTION, WithdrawButton } from "./withdraw-button.js";

type Deed = JobState["actions"][number]["did"];
const DEEDS = Object.keys(DEED_WORDS) as Deed[];

/** Actions, remarks and attempts of a job, each of which can be taken back. */
export function ActionsPanel({ state }: { readonly state: JobState }) {
  const title = useRef<HTMLHeadingElement>(null);
  const [ref, setRef] = useState("");
  const [did, setDid] = useState<Deed>("replaced");
  const [remark, setRemark] = useState("");
  const refs = [...new Set(state.boards.flatMap(({ map }) => map.regions.map((part) => part.ref)))];
  const say = async (line: SaidLine, done: string): Promise<boolean> => {
    try {
      sayDone(done, await callApi("say", { job: state.id, body: { said: [line] } }));
      void refreshJob();
      return true;
    } catch (error) {
      announceError(error);
      return false;
    }
  };
  const add = async (event: Event): Promise<void> => {
    event.preventDefault();
    const part = ref.trim();
    const known = refs.find((one) => one.toLowerCase() === part.toLowerCase()) ?? part;
    const words = remark.trim();
    const action = {
      did,
      ...(part === "" ? {} : { ref: known }),
      ...(words === "" ? {} : { remark: words }),
    };
    if (await say({ type: "action", action }, `Noted: ${actionText(action)}.`)) {
      // What is typed meanwhile is the next one.
      setRef((now) => (now === ref ? "" : now));
      setRemark((now) => (now === remark ? "" : now));
    }
  };
  const addRemark = async (): Promise<void> => {
    const text = remark.trim();
    if (text !== "" && (await say({ type: "remark", text }, "The remark is noted.")))
      setRemark((now) => (now === remark ? "" : now));
  };
  const lines = [
    ...state.actions.map((action) => ({
      ...action,
      text: `${actionText(action)}${action.remark === undefined ? "" : `: ${oneLine(action.remark)}`}`,
    })),
    ...state.remarks,
    ...state.attempts.map(({ seq, at, attempt }) => ({
      seq,
      at,
      text: `Attempt ${attempt.number}`,
      isAttempt: true,
    })),
  ].sort((a, b) => a.seq - b.seq);
  return (
    <section aria-labelledby="actions-title" class="actions-panel panel">
      <h2 id="actions-title" ref={title} tabIndex={-1}>
        Actions and remarks
      </h2>
      <form onSubmit={add} class="action-form">
        <label class="field">
          Part
          <input
            type="text"
            value={ref}
            list="parts"
            autoComplete="off"
            onInput={(event) => setRef(event.currentTarget.value)}
          />
        </label>
        <label class="field">
          Was
          <select value={did} onChange={(event) => setDid(event.currentTarget.value as Deed)}>
            {DEEDS.map((name) => (
              <option key={name} value={name}>
                {DEED_WORDS[name]}
              </option>
            ))}
          </select>
        </label>
        <label class="field wide">
          Remark
          <input
            type="text"
            value={remark}
            autoComplete="off"
            onInput={(event) => setRemark(event.currentTarget.value)}
          />
        </label>
        <div class="row wide">
          <button type="submit" class="primary">
            Note the action
          </button>
          <button type="button" onClick={addRemark}>
            Note the remark alone
          </button>
        </div>
        <datalist id="parts">
          {refs.map((name) => (
            <option key={name} value={name} />
          ))}
        </datalist>
      </form>
      <ol class="told">
        {lines.map((line) => (
          <li key={line.seq} class="row spread">
            <span>
              {showNumber(line.text)} <span class="dim small">{momentText(line.at)}</span>
            </span>
            <WithdrawButton
              job={state.id}
              seq={line.seq}
              text={line.text}
              question={"isAttempt" in line ? ATTEMPT_QUESTION : null}
              onDone={() => title.current?.focus()}
            />
          </li>
        ))}
      </ol>
    </section>
  );
}
