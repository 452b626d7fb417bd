// page: the inbox of a job → frames by role, their conditions, and the way to an attempt.
import { useEffect, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { InboxFile, Role } from "../../api/inbox-schema.js";
import { isFrameName } from "../../read/frame-extensions.js";
import { CautionsNote } from "../show/cautions-note.js";
import { announceError } from "../state/announce.js";
import { refreshInboxSoon } from "../state/job-data.js";
import { followOtherFrames, otherFrames, setOtherFrames } from "../state/other-view.js";
import type { SectionProps } from "../state/section-props.js";
import { isSending } from "../state/uploads.js";
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
  useEffect(() => followOtherFrames(state.id), [state.id]);
  const hadPower = state.attempts.flatMap(({ attempt }) => attempt.views.flatMap(({ powered: had }) => had));
  const sorted = sortFrames(
    files,
    otherFrames.value[state.id],
    new Set(hadPower.map(({ sha256 }) => sha256)),
  );
  const { baseline, powered, other, earlier, scaleless, others } = sorted;
  const frames = [...powered, ...baseline, ...other.powered, ...other.baseline, ...earlier];
  const hasOther = other.baseline.length + other.powered.length > 0;
  const isComing = isSending.value || files.some(({ sort }) => sort === "unread");
  // Before anything is read, what looks like a frame by its name is shown already.
  const picture = frames.find(({ sha256 }) => sha256 === shown) ?? frames[0] ?? firstUnread(files);
  const changeRole = (of: readonly InboxFile[], role: Role): void => {
    callApi("changeInbox", { job: state.id, body: { files: of.map(({ sha256 }) => sha256), role } }).then(
      refreshInboxSoon,
      announceError,
    );
  };
  const moveTo = (isOther: boolean) => ({
    to: isOther ? ("the other view" as const) : ("this view" as const),
    on: (of: readonly InboxFile[]) =>
      setOtherFrames(
        state.id,
        of.map(({ sha256 }) => sha256),
        isOther,
      ),
  });
  // A second view has frames of both roles, too.
  const mayMove = hasOther || (baseline.length > 1 && powered.length > 1);
  const group = { job: state.id, shown: picture?.sha256 ?? null, onShow: setShown, onRole: changeRole };
  const toOther = mayMove ? { move: moveTo(true) } : {};
  const groups = [
    { title: "Baseline", hint: "without power", of: "baseline", files: baseline, ...toOther },
    {
      title: "Powered",
      hint: powered.length > 1 ? "a burst, in this order" : "with power",
      of: "powered",
      files: powered,
      ...toOther,
    },
    ...(hasOther
      ? ([
          {
            title: "Other view, baseline",
            hint: "the same board from another side or place",
            of: "baseline",
            files: other.baseline,
            move: moveTo(false),
          },
          {
            title: "Other view, powered",
            hint: "under the same conditions",
            of: "powered",
            files: other.powered,
            move: moveTo(false),
          },
        ] as const)
      : []),
  ] as const;
  return (
    <section aria-label="Frames" class="frames-section">
      <div class="frames-main">
        <DropArea job={state.id} isSmall={files.length > 0} />
        {scaleless.length > 0 && !isComing && <ScaleForm job={state.id} files={scaleless} last={lastScale} />}
        {frames.length > 0 && (
          <>
            {groups.map((one) => (
              <FileGroup key={one.title} {...group} {...one} />
            ))}
            {earlier.length > 0 && (
              <details class="small">
                <summary>Baselines of earlier attempts, not used again: {earlier.length}</summary>
                <FileGroup {...group} title="Earlier baseline" hint="" of="baseline" files={earlier} />
              </details>
            )}
          </>
        )}
        <OtherFiles
          state={state}
          files={others}
          baselines={[...baseline.slice(0, 1), ...other.baseline.slice(0, 1)]}
        />
        {frames.length > 0 && (
          <AnalyseBar
            state={state}
            baseline={baseline}
            powered={powered}
            other={hasOther ? other : null}
            isComing={isComing}
          />
        )}
        <WatchForm state={state} />
        <CautionsNote />
      </div>
      {picture !== null && <FramePreview job={state.id} file={picture} />}
    </section>
  );
}

function firstUnread(files: readonly InboxFile[]): InboxFile | null {
  return files.find(({ sort, names }) => sort === "unread" && isFrameName(names[0] ?? "")) ?? null;
}
