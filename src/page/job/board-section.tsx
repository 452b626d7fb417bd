// page: the job's map and baseline → the section in which the board is drawn.
import type { ComponentType } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import { decodePictures, layerOf } from "../../api/pictures.js";
import type { DrawProps } from "../draw/draw-view.js";
import { sortFrames } from "../frames/sort-frames.js";
import { announce, announceError } from "../state/announce.js";
import { refreshJob } from "../state/job-data.js";
import { followOtherFrames, otherFrames } from "../state/other-view.js";
import { keepPlacedView, loadPlacedView, type PlacedBaseline } from "../state/placed-views.js";
import type { SectionProps } from "../state/section-props.js";

type Loaded = {
  readonly Draw: ComponentType<DrawProps>;
  readonly frame: DrawProps["frame"];
  readonly placed: PlacedBaseline | null;
};

/** Draw outline, regions and fiducials over the baseline or a photo. */
export function BoardSection({ state }: SectionProps) {
  const [loaded, setLoaded] = useState<Loaded | null>(null);
  const [isOther, setOther] = useState(false);
  useEffect(() => followOtherFrames(state.id), [state.id]);
  const sorted = sortFrames(state.inbox.files, otherFrames.value[state.id]);
  const [first = null] = sorted.baseline;
  const [otherFirst = null] = sorted.other.baseline;
  const baseline = isOther && otherFirst !== null ? otherFirst : first;
  // An attempt that comes meanwhile, as from a watched folder, must not take the drawing from under the hand.
  const begunOver = useRef(state.attempts.at(-1));
  begunOver.current ??= state.attempts.at(-1);
  const latest = begunOver.current;
  const source = baseline?.sha256 ?? (latest === undefined ? null : `attempt ${latest.attempt.number}`);
  useEffect(() => {
    let isGone = false;
    setLoaded(null);
    const load = async (): Promise<void> => {
      const [{ DrawView }, frame, placed] = await Promise.all([
        import("../draw/draw-view.js"),
        baseline === null
          ? loadKept(state.id, latest?.attempt.number ?? null)
          : loadDropped(state.id, baseline),
        baseline === null ? null : loadPlacedView(state.id, baseline.sha256),
      ]);
      if (!isGone) setLoaded({ Draw: DrawView, frame, placed });
    };
    load().catch(announceError);
    return () => {
      isGone = true;
    };
  }, [state.id, source]);
  if (loaded === null) return <p class="dim pad">Reading the baseline …</p>;
  const { Draw, frame, placed } = loaded;
  const keep: DrawProps["onSave"] = ({ view, name }) => {
    void refreshJob();
    if (view !== null && baseline !== null) {
      keepPlacedView(state.id, baseline.sha256, { view, board: name, by: "fiducials", sigmaMm: null }).catch(
        announceError,
      );
    }
    announce(`The board ${name} is kept in the job.`);
  };
  return (
    <div class="board-section">
      <h2 class="hidden">The board</h2>
      {otherFirst !== null && (
        <p class="row view-choice">
          {[first, otherFirst].map((file, i) => (
            <label key={file?.sha256 ?? i}>
              <input
                type="radio"
                name="view-to-place"
                checked={isOther === (i === 1)}
                onChange={() => setOther(i === 1)}
              />
              {i === 1 ? "Baseline of the other view" : "Baseline of this view"}
            </label>
          ))}
        </p>
      )}
      <Draw
        job={state.id}
        device={state.header.device}
        board={state.boards.at(-1)?.map ?? null}
        view={placed?.view ?? (baseline === null ? (latest?.views[0] ?? null) : null)}
        frame={frame}
        photos={state.inbox.files
          .filter(({ sort }) => sort === "photo")
          .map(({ sha256, names }) => ({ sha256, name: names[0] ?? "photo" }))}
        canPlace={state.attempts.some(({ views }) => views.some((view) => view !== null))}
        onSave={keep}
      />
    </div>
  );
}

async function loadDropped(
  job: string,
  file: { readonly sha256: string; readonly names: readonly string[] },
): Promise<DrawProps["frame"]> {
  const pictures = decodePictures(await callApi("inboxFrame", { job, sha256: file.sha256 }));
  const data = layerOf(pictures, "frame");
  const { width, height } = pictures;
  return data === null
    ? null
    : { sha256: file.sha256, name: file.names[0] ?? "baseline", width, height, data };
}

/** The baseline of an attempt, where none was dropped since. */
async function loadKept(job: string, number: number | null): Promise<DrawProps["frame"]> {
  if (number === null) return null;
  const pictures = decodePictures(await callApi("pictures", { job, number }));
  const data = layerOf(pictures, "baseline");
  const { width, height } = pictures;
  return data === null ? null : { sha256: null, name: `baseline of attempt ${number}`, width, height, data };
}
