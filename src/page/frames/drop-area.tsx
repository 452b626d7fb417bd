// page: files dropped, chosen or pasted → sent to the job.
import { useEffect, useRef, useState } from "preact/hooks";
import { announceError } from "../state/announce.js";
import { sendFiles } from "../state/uploads.js";
import { collectChosen, collectDropped } from "./collect-files.js";

/** Where frames are dropped. While it is on the page, files may be dropped and pasted anywhere on it. */
export function DropArea({ job, isSmall }: { readonly job: string; readonly isSmall: boolean }) {
  const files = useRef<HTMLInputElement>(null);
  const folder = useRef<HTMLInputElement>(null);
  const [isOver, setOver] = useState(false);
  useEffect(() => listenToWindow(job, setOver), [job]);
  const take = (event: Event): void => {
    const input = event.currentTarget as HTMLInputElement;
    if (input.files !== null) sendFiles(job, collectChosen(input.files));
    input.value = "";
  };
  return (
    <div class={`drop-area${isOver ? " over" : ""}${isSmall ? " slim" : ""}`}>
      {!isSmall && (
        <p class="lead">Drop the frames here: at least one without power, at least one with power.</p>
      )}
      <div class="row">
        <button type="button" class={isSmall ? "" : "primary"} onClick={() => files.current?.click()}>
          Choose files
        </button>
        <button type="button" onClick={() => folder.current?.click()}>
          Choose a folder
        </button>
        <span class="dim small">
          or drop or paste them: CSV or other text, TIFF, PNG; board map and view as JSON; photos of the board
        </span>
      </div>
      <input ref={files} type="file" multiple hidden aria-label="Files" onChange={take} />
      <input
        ref={folder}
        type="file"
        hidden
        aria-label="Folder"
        {...{ webkitdirectory: true }}
        onChange={take}
      />
    </div>
  );
}

function listenToWindow(job: string, setOver: (isOver: boolean) => void): () => void {
  const hasFiles = (event: DragEvent): boolean => event.dataTransfer?.types.includes("Files") ?? false;
  const over = (event: DragEvent): void => {
    if (!hasFiles(event)) return;
    event.preventDefault();
    setOver(true);
  };
  const leave = (event: DragEvent): void => {
    if (event.relatedTarget === null) setOver(false);
  };
  const drop = (event: DragEvent): void => {
    if (!hasFiles(event) || event.dataTransfer === null) return;
    event.preventDefault();
    setOver(false);
    collectDropped(event.dataTransfer).then((files) => sendFiles(job, files), announceError);
  };
  const paste = (event: ClipboardEvent): void => {
    const pasted = event.clipboardData?.files;
    if (pasted === undefined || pasted.length === 0) return;
    event.preventDefault();
    sendFiles(job, collectChosen(pasted));
  };
  addEventListener("dragover", over);
  addEventListener("dragleave", leave);
  addEventListener("drop", drop);
  addEventListener("paste", paste);
  return () => {
    removeEventListener("dragover", over);
    removeEventListener("dragleave", leave);
    removeEventListener("drop", drop);
    removeEventListener("paste", paste);
  };
}
