// page: the inbox of a job → frames by role, their conditions, and the way to an attempt.
import { useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { InboxFile, Role } from "../../api/inbox-schema.js";
import type { SectionProps } from "../job/job-page.js";
import { CautionsNote } from "../show/cautions-note.js";
import { announceError } from "../state/announce.js";
import { refreshInboxSoon } from "../state/job-data.js";
import { sending } from "../state/uploads.js";
import { AnalyseBar } from "./analyse-bar.js";
import { DropArea } from "./drop-area.js";
import { FileGroup } from "./file-group.js";
import { FramePreview } from "./frame-preview.js";
import { OtherFiles } from "./other-files.js";
import { ScaleForm } from "./scale-form.js";
import { sortFrames } from "./sort-frames.js";
import { WatchForm } from "./watch-form.js";

/** Drop frames, tell their roles, say the conditions, analyse. */
export function FramesSection({ state }: SectionProps) {
  const [shown, setShown] = useState<string | null>(null);
  const { files, lastScale } = state.inbox;
  const { baseline, powered, earlier, scaleless, others } = sortFrames(files);
  const frames = [...powered, ...baseline, ...earlier];
  const isComing = sending.value !== null || files.some(({ sort }) => sort === "unread");
  const picture = frames.find(({ sha256 }) => sha256 === shown) ?? frames[0] ?? null;
  const changeRole = (of: readonly InboxFile[], role: Role): void => {
    callApi("changeInbox", { job: state.id, body: { files: of.map(({ sha256 }) => sha256), role } }).then(
      refreshInboxSoon,
      announceError,
    );
  };
  const group = { job: state.id, shown: picture?.sha256 ?? null, onShow: setShown, onRole: changeRole };
  return (
    <section aria-label="Frames" class="frames-section">
      <div class="frames-main">
        <DropArea job={state.id} isSmall={files.length > 0} />
        {scaleless.length > 0 && !isComing && <ScaleForm job={state.id} files={scaleless} last={lastScale} />}
        {frames.length > 0 && (
          <>
            <FileGroup {...group} title="Baseline" hint="without power" of="baseline" files={baseline} />
            <FileGroup
              {...group}
              title="Powered"
              hint={powered.length > 1 ? "a burst, in this order" : "with power"}
              of="powered"
              files={powered}
            />
            {earlier.length > 0 && (
              <details class="small">
                <summary>Baselines of earlier attempts, not used again: {earlier.length}</summary>
                <FileGroup {...group} title="Earlier baseline" hint="" of="baseline" files={earlier} />
              </details>
            )}
          </>
        )}
        <OtherFiles state={state} files={others} baseline={baseline[0] ?? null} />
        {frames.length > 0 && (
          <AnalyseBar state={state} baseline={baseline} powered={powered} isComing={isComing} />
        )}
        <WatchForm state={state} />
        <CautionsNote />
      </div>
      {picture !== null && <FramePreview job={state.id} file={picture} />}
    </section>
  );
}
