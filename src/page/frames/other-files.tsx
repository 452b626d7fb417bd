// page: dropped files that are no frames → what each is, and a click that takes it where it belongs.
import { callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import type { JobState } from "../../api/jobs-schema.js";
import { faultText } from "../show/fault-text.js";
import { announce, announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { keepPlacedView } from "../state/placed-views.js";
import { sectionHash } from "../state/route.js";
import { showNumber } from "../state/settings.js";
import { RemoveFile } from "./remove-file.js";

const SORT_WORDS: Readonly<Record<InboxFile["sort"], string>> = {
  frame: "frame",
  photo: "photo of the board",
  scale: "scale of a picture",
  board: "board map",
  view: "view",
  unreadable: "can't be read",
  unread: "being read …",
};

interface OtherFilesProps {
  readonly state: JobState;
  readonly files: readonly InboxFile[];
  /** The frames that a dropped view may be of: the first baseline of each view. */
  readonly baselines: readonly InboxFile[];
}

/** Maps, views, photos, scales, and what can't be read. */
export function OtherFiles({ state, files, baselines }: OtherFilesProps) {
  const scales = files.filter(({ sort, error }) => sort === "scale" && error === null);
  const unread = files.filter(({ sort }) => sort === "unread");
  const listed = files.filter((file) => !scales.includes(file) && !unread.includes(file));
  if (files.length === 0) return null;
  return (
    <section class="file-group" aria-label="Other files">
      {listed.length > 0 && <h2>Other files</h2>}
      {unread.length > 0 && (
        <p class="dim">{countWords(unread.length, "file is", "files are")} being read …</p>
      )}
      {scales.length > 0 && (
        <p class="dim small">
          {countWords(
            scales.length,
            "scale file belongs to its picture",
            "scale files belong to their pictures",
          )}
          .
        </p>
      )}
      <ul class="plain">
        {listed.map((file) => (
          <li key={file.sha256} class="row spread">
            <span class="what">
              <strong>{file.names[0]}</strong> <span class="dim">{SORT_WORDS[file.sort]}</span>
              {file.error !== null && (
                <span class="chip bad fault">{showNumber(faultText(file.error, true))}</span>
              )}
            </span>
            <span class="row end">
              {file.sort === "board" && (
                <button type="button" onClick={() => takeBoard(state.id, file).catch(announceError)}>
                  Use as board map
                </button>
              )}
              {file.sort === "view" &&
                baselines.map((baseline) => (
                  <button
                    key={baseline.sha256}
                    type="button"
                    onClick={() => takeView(state.id, file, baseline).catch(announceError)}
                  >
                    Use for {baseline.names[0]}
                  </button>
                ))}
              {file.sort === "photo" && <a href={sectionHash(state.id, "board")}>Draw over it</a>}
              <RemoveFile job={state.id} file={file} />
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function countWords(count: number, one: string, more: string): string {
  return `${count} ${count === 1 ? one : more}`;
}

// The checks come with the editor of boards, and are loaded when they are asked for.
async function takeBoard(job: string, { sha256, names }: InboxFile): Promise<void> {
  const { parseBoardMap } = await import("../../board/parse-board-map.js");
  const { board: map } = parseBoardMap(await readJson(job, sha256), names[0]!);
  const { name } = await callApi("saveBoard", { job, body: { map } });
  await callApi("removeFromInbox", { job, sha256 });
  announce(`The board ${name} is in the job.`);
  void refreshJob();
}

async function takeView(job: string, { sha256, names }: InboxFile, baseline: InboxFile): Promise<void> {
  const { parseView } = await import("../../board/parse-view.js");
  const { view } = parseView(await readJson(job, sha256), names[0]!);
  const { width, height } = view.frame;
  if (baseline.frame !== null && (baseline.frame.width !== width || baseline.frame.height !== height)) {
    throw new Error(
      `The view is of frames of ${width}×${height}, but ${baseline.names[0]} has ${baseline.frame.width}×${baseline.frame.height}.`,
    );
  }
  await keepPlacedView(job, baseline.sha256, { view, board: null, by: "file", sigmaMm: null });
  announce(`${baseline.names[0]} is placed on the board.`);
}

async function readJson(job: string, sha256: string): Promise<unknown> {
  return JSON.parse(new TextDecoder().decode(await callApi("inboxFile", { job, sha256 })));
}
