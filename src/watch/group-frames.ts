// watch: whole frames of a folder → groups that follow each other, and the role of each.
import { compareNatural } from "../read/compare-natural.js";
import type { FrameGroup, Role, WatchedFrame } from "./watched-frame.js";

/** Group frames by time: one that was written more than the gap after the one before begins a new group, and so does
 *  one of another size or another role.
 *  @param gapMs longest pause inside a group.
 *  @returns groups in the order of time; frames of one moment in natural order of their names. */
export function groupFrames(frames: readonly WatchedFrame[], gapMs: number): FrameGroup[] {
  const sorted = [...frames].sort((a, b) => a.mtimeMs - b.mtimeMs || compareNatural(a.name, b.name));
  const groups: { frames: WatchedFrame[]; role: Role | null }[] = [];
  for (const frame of sorted) {
    const group = groups[groups.length - 1];
    const before = group?.frames[group.frames.length - 1];
    const follows =
      before !== undefined &&
      frame.mtimeMs - before.mtimeMs <= gapMs &&
      frame.width === before.width &&
      frame.height === before.height &&
      frame.role === before.role;
    if (follows) group!.frames.push(frame);
    else groups.push({ frames: [frame], role: frame.role });
  }
  return groups;
}

/** Give roles to groups by their order: what follows a baseline is powered, and what follows that is a baseline again.
 *  What the job says of a frame goes first, so that a restart goes on where it was.
 *  @param groups made of frames without roles. */
export function rolesByOrder(
  groups: readonly FrameGroup[],
  recorded: ReadonlyMap<string, Role>,
): FrameGroup[] {
  let before: Role = "powered";
  return groups.map((group) => {
    const known = recordedRole(group, recorded);
    before = known ?? (before === "baseline" ? "powered" : "baseline");
    return { ...group, role: before };
  });
}

/** The role that the job already knows frames of a group in. */
export function recordedRole(group: FrameGroup, recorded: ReadonlyMap<string, Role>): Role | null {
  for (const { sha256 } of group.frames) {
    const role = recorded.get(sha256);
    if (role !== undefined) return role;
  }
  return null;
}
