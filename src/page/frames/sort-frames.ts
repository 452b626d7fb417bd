// page: the inbox of a job → which files are baseline and which powered frames of the next attempt, and what is beside
// them.
import type { InboxFile } from "../../api/inbox-schema.js";

/** The inbox, sorted. */
export interface SortedInbox {
  readonly baseline: readonly InboxFile[];
  readonly powered: readonly InboxFile[];
  /** The same of the other view. */
  readonly other: { readonly baseline: readonly InboxFile[]; readonly powered: readonly InboxFile[] };
  /** Frames of earlier attempts that are not used again. */
  readonly earlier: readonly InboxFile[];
  /** Pictures of grey levels whose temperatures are not known. */
  readonly scaleless: readonly InboxFile[];
  readonly others: readonly InboxFile[];
}

/** Sort the inbox. A frame that an earlier attempt has is used again only as a baseline, where no new one was dropped,
 *  or where a person gave it its role since. One that an attempt had with power left the inbox then: it was dropped
 *  again, and is powered again.
 *  @param ofOther SHA-256 of frames that show the board from another side or place.
 *  @param hadPower SHA-256 of frames that attempts had with power.
 */
export function sortFrames(
  files: readonly InboxFile[],
  ofOther: readonly string[] = [],
  hadPower: ReadonlySet<string> = new Set(),
): SortedInbox {
  const all = files.filter(({ sort }) => sort === "frame");
  const other = all.filter(({ sha256 }) => ofOther.includes(sha256));
  const frames = all.filter((file) => !other.includes(file));
  // A baseline that an attempt has waits for the next powered frame of its view, and is in nobody's way meanwhile.
  const otherPowered = other.filter(({ role }) => role !== "baseline");
  const isWaiting = (file: InboxFile): boolean => otherPowered.length === 0 && file.attempts.length > 0;
  const otherBaseline = other.filter((file) => file.role === "baseline" && !isWaiting(file));
  const isPowered = ({ sha256, said }: InboxFile): boolean =>
    said === "powered" || (said === null && hadPower.has(sha256));
  const used = frames.filter((file) => file.attempts.length > 0 && !isPowered(file));
  const fresh = frames.filter((file) => !used.includes(file));
  const isBaseline = (file: InboxFile): boolean => file.role === "baseline" && !isPowered(file);
  const newBaseline = fresh.filter(isBaseline);
  const baseline = newBaseline.length > 0 ? newBaseline : used;
  const scaleless = files.filter(({ error }) => error?.code === "E_SCALE_NONE");
  return {
    baseline,
    powered: fresh.filter((file) => !isBaseline(file)),
    other: { baseline: otherBaseline, powered: otherPowered },
    earlier: [
      ...(baseline === used ? [] : used),
      ...other.filter((file) => file.role === "baseline" && isWaiting(file)),
    ],
    scaleless,
    others: files.filter((file) => file.sort !== "frame" && !scaleless.includes(file)),
  };
}
