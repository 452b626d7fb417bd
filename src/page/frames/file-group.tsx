// page: frames of one role → a table with what each holds, and a click that moves it to the other role.

import { useState } from "preact/hooks";
import type { InboxFile, Role } from "../../api/inbox-schema.js";
import { countOf } from "../../core/count-of.js";
import { faultText } from "../show/fault-text.js";
import { temperatureText } from "../show/show-temperature.js";
import { showNumber, temperature } from "../state/settings.js";
import { RemoveFile } from "./remove-file.js";

/** Longer lists are folded: a burst of hundreds of frames says little line by line. */
const MOST_LINES = 8;
const BY_WORDS = {
  said: "as you said",
  name: "by its name",
  contents: "by what it shows",
  order: "by the order",
} as const;

interface FileGroupProps {
  readonly job: string;
  readonly title: string;
  readonly hint: string;
  /** Role of all of them. */
  readonly of: Role;
  readonly files: readonly InboxFile[];
  /** SHA-256 of the frame whose picture is shown. */
  readonly shown: string | null;
  readonly onShow: (sha256: string) => void;
  readonly onRole: (files: readonly InboxFile[], role: Role) => void;
  /** Set where frames can be moved to the other view, or back from it. */
  readonly move?: {
    readonly to: "this view" | "the other view";
    readonly on: (files: readonly InboxFile[]) => void;
  };
}

/** The frames of one role. */
export function FileGroup(props: FileGroupProps) {
  const { title, hint, of: role, files, onRole, move } = props;
  const other: Role = role === "baseline" ? "powered" : "baseline";
  return (
    <section class="file-group" aria-label={`${title} frames`}>
      <div class="row spread">
        <h2>
          {title} <span class="dim small">{hint}</span>
        </h2>
        {files.length > 1 && (
          <span class="row">
            {move !== undefined && (
              <button type="button" class="quiet" onClick={() => move.on(files)}>
                Mark all as of {move.to}
              </button>
            )}
            <button type="button" class="quiet" onClick={() => onRole(files, other)}>
              Mark all as {other}
            </button>
          </span>
        )}
      </div>
      {files.length === 0 && <p class="dim">No {role} frame yet.</p>}
      {files.length > 0 && files.length <= MOST_LINES && <FrameTable {...props} />}
      {files.length > MOST_LINES && <FoldedTable {...props} />}
    </section>
  );
}

/** Rows are made only once they are asked for: hundreds of them would be made anew with every file that comes. */
function FoldedTable(props: FileGroupProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <details onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{summaryOf(props.files)}</summary>
      {isOpen && <FrameTable {...props} />}
    </details>
  );
}

function FrameTable({ job, title, of: role, files, shown, onShow, onRole, move }: FileGroupProps) {
  const other: Role = role === "baseline" ? "powered" : "baseline";
  return (
    <table class="data">
      <caption class="hidden">{title} frames</caption>
      <thead>
        <tr>
          <th scope="col">File</th>
          <th scope="col" class="number">
            Size
          </th>
          <th scope="col" class="number">
            Range
          </th>
          <th scope="col" class="number">
            Noise
          </th>
          <th scope="col">To mind</th>
          <th scope="col">
            <span class="hidden">Change</span>
          </th>
        </tr>
      </thead>
      <tbody>
        {files.map((file) => (
          <tr key={file.sha256} class={file.sha256 === shown ? "shown" : ""}>
            <th scope="row">
              <button
                type="button"
                class="link"
                aria-pressed={file.sha256 === shown}
                onClick={() => onShow(file.sha256)}
              >
                {nameOf(file).slice(nameOf(file).lastIndexOf("/") + 1)}
              </button>
              {nameOf(file).includes("/") && (
                <div class="dim small">in {nameOf(file).slice(0, nameOf(file).lastIndexOf("/"))}</div>
              )}
              {file.roleBy !== null && <div class="dim small">{BY_WORDS[file.roleBy]}</div>}
              {file.attempts.length > 0 && <div class="dim small">in attempt {file.attempts.join(", ")}</div>}
            </th>
            <td class="number">{sizeText(file)}</td>
            <td class="number">{rangeText(file)}</td>
            <td class="number">
              {file.frame?.noiseK == null ? "–" : `${showNumber(file.frame.noiseK.toFixed(3))} K`}
            </td>
            <td>{troubleOf(file)}</td>
            <td class="row end">
              <button type="button" onClick={() => onRole([file], other)}>
                Mark as {other}
              </button>
              {move !== undefined && (
                <button type="button" onClick={() => move.on([file])}>
                  Mark as of {move.to}
                </button>
              )}
              <RemoveFile job={job} file={file} />
            </td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function nameOf({ names }: InboxFile): string {
  return names[0] ?? "frame";
}

function sizeText({ frame }: InboxFile): string {
  if (frame === null) return "–";
  const many = frame.frames === 1 ? "" : ` × ${frame.frames} frames`;
  return `${frame.width}×${frame.height}${many}`;
}

function rangeText({ frame }: InboxFile): string {
  if (frame === null) return "–";
  const low = temperatureText(frame.lowC, temperature.value).replace(/ °.$/, "");
  return showNumber(`${low} … ${temperatureText(frame.highC, temperature.value)}`);
}

function troubleOf({ frame, notes, error, names }: InboxFile) {
  const words = notes.map(({ text }) => text);
  if (error !== null) words.unshift(faultText(error, true));
  const missing = frame?.missing ?? 0;
  if (missing > 0) words.push(`${countOf(missing, "pixel")} without a reading`);
  if (frame?.scaleFrom != null) words.push(`Grey levels: ${frame.scaleFrom}`);
  if (names.length > 1) words.push(`The same bytes as ${names.slice(1).join(", ")}`);
  if (words.length === 0) return <span class="dim">nothing</span>;
  return words.map((text) => <div key={text}>{showNumber(text)}</div>);
}

function summaryOf(files: readonly InboxFile[]): string {
  const troubled = files.filter(({ notes, error }) => notes.length > 0 || error !== null).length;
  const first = files[0];
  const last = files.at(-1);
  if (first === undefined || last === undefined) return "";
  const trouble = troubled === 0 ? "" : `, ${troubled} with something to mind`;
  return `${files.length} frames, ${first.names[0]} … ${last.names[0]}, ${sizeText(first)}, ${rangeText(first)}${trouble}`;
}
