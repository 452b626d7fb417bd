// page: the inbox of a job → which files are baseline and which powered frames of the next attempt, and what is beside them.
import type { InboxFile } from "../../api/inbox-schema.js";

/** The inbox, sorted. */
export interface SortedInbox {
  readonly baseline: readonly InboxFile[];
  readonly powered: readonly InboxFile[];
  /** Frames of earlier attempts that are not used again. */
  readonly earlier: readonly InboxFile[];
  /** Pictures of grey levels whose temperatures are not known. */
  readonly scaleless: readonly InboxFile[];
  readonly others: readonly InboxFile[];
}

/** Sort the inbox. A frame that an earlier attempt has is used again only as a baseline, where no new one was dropped, or
 *  where a person gave it its role since.
 */
export function sortFrames(files: readonly InboxFile[]): SortedInbox {
  const frames = files.filter(({ sort }) => sort === "frame");
  const used = frames.filter(({ attempts, said }) => attempts.length > 0 && said !== "powered");
  const fresh = frames.filter((file) => !used.includes(file));
  const newBaseline = fresh.filter(({ role }) => role === "baseline");
  const baseline = newBaseline.length > 0 ? newBaseline : used;
  const scaleless = files.filter(({ error }) => error?.code === "E_SCALE_NONE");
  return {
    baseline,
    powered: fresh.filter(({ role }) => role !== "baseline"),
    earlier: baseline === used ? [] : used,
    scaleless,
    others: files.filter((file) => file.sort !== "frame" && !scaleless.includes(file)),
  };
}
