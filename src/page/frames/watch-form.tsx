// page: a folder that a camera's program saves into → watched, so that attempts come by themselves.

import { useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { JobState } from "../../api/jobs-schema.js";
import { countOf } from "../../core/count-of.js";
import { momentText } from "../../report/job-words.js";
import { announce, announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { showNumber } from "../state/settings.js";

/** Watch a folder of this machine, or stop watching it. */
export function WatchForm({ state }: { readonly state: JobState }) {
  const { watch } = state;
  const [folder, setFolder] = useState(watch?.folder ?? "");
  const [tell, setTell] = useState<"name" | "order">("name");
  const begin = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (folder.trim() === "") return;
    const view = state.attempts.at(-1)?.views[0] ?? null;
    const board = state.boards.at(-1)?.name;
    try {
      await callApi("startWatch", {
        job: state.id,
        body: {
          folder: folder.trim(),
          tell,
          ...(view === null || board === undefined ? {} : { view, board }),
        },
      });
      announce("The folder is watched: new frames become attempts here by themselves.");
      void refreshJob();
    } catch (error) {
      announceError(error);
    }
  };
  const stop = (): void => {
    callApi("stopWatch", { job: state.id }).then(() => {
      announce("The folder is no longer watched.");
      void refreshJob();
    }, announceError);
  };
  const isRunning = watch?.running ?? false;
  return (
    <details class="watch-form" open={isRunning}>
      <summary>
        {isRunning
          ? `Watching ${watch?.folder}: ${countOf(watch?.added ?? 0, "attempt")} so far`
          : "Watch a folder"}
      </summary>
      <form class="row" onSubmit={begin}>
        <label class="field grow">
          Folder on this machine
          <input
            type="text"
            value={folder}
            disabled={isRunning}
            autoComplete="off"
            onInput={(event) => setFolder(event.currentTarget.value)}
          />
        </label>
        <label class="field">
          Roles
          <select
            value={tell}
            disabled={isRunning}
            onChange={(event) => setTell(event.currentTarget.value === "order" ? "order" : "name")}
          >
            <option value="name">by the files' names</option>
            <option value="order">by order: baseline, then powered</option>
          </select>
        </label>
        {isRunning ? (
          <button type="button" onClick={stop}>
            Stop watching
          </button>
        ) : (
          <button type="submit">Watch it</button>
        )}
      </form>
      {watch !== null && watch.said.length > 0 && (
        <ul class="plain small">
          {watch.said.slice(0, 5).map(({ at, text }) => (
            <li key={at + text}>
              <span class="dim">{momentText(at)}</span> {showNumber(text)}
            </li>
          ))}
        </ul>
      )}
    </details>
  );
}
