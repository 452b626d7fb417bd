// watch: groups of frames and what the job has → the attempts that can be added now, and what the others wait for.
import type { FrameGroup, Role } from "./watched-frame.js";

/** A baseline and the powered frames that follow it. */
export interface PlannedAttempt {
  readonly baseline: FrameGroup;
  readonly powered: FrameGroup;
}

/** A group that can't be an attempt yet, and why. */
export interface WaitingGroup {
  readonly group: FrameGroup;
  /** `more`: it may still grow; `baseline`: no baseline of its size came before it; `role`: nothing tells what it
   *  is. */
  readonly for: "more" | "baseline" | "role";
}

/** What can be done with the groups of a folder. */
export interface AttemptPlan {
  readonly ready: readonly PlannedAttempt[];
  readonly waiting: readonly WaitingGroup[];
}

/** What is known beside the groups. */
export interface PlanState {
  /** Role of each frame that the job has, by SHA-256. */
  readonly recorded: ReadonlyMap<string, Role>;
  /** Times of files that are still being written or can't be read yet, ms on the disk's clock. */
  readonly pendingMs: readonly number[];
  /** For how long nothing has changed in the folder, ms. */
  readonly quietMs: number;
  readonly gapMs: number;
}

/** Plan attempts: each group of powered frames that the job does not have, with the latest baseline of its size before
 *  it. One baseline serves all powered groups until the next. A group is complete when another one follows it or
 *  nothing has come for as long as the gap, and no file is being written that may belong to it.
 *  @param groups in the order of time. */
export function planAttempts(groups: readonly FrameGroup[], state: PlanState): AttemptPlan {
  const ready: PlannedAttempt[] = [];
  const waiting: WaitingGroup[] = [];
  const baselines = new Map<string, FrameGroup>();
  groups.forEach((whole, index) => {
    const isLast = index === groups.length - 1;
    const mayGrow = (isLast && state.quietMs < state.gapMs) || isAwaited(whole, state);
    const { width, height } = whole.frames[0]!;
    const size = `${width}×${height}`;
    if (whole.role === "baseline") {
      if (mayGrow) waiting.push({ group: whole, for: "more" });
      baselines.set(size, whole);
      return;
    }
    const group = withoutTaken(whole, state.recorded);
    if (group === null) return;
    if (whole.role === null) {
      waiting.push({ group, for: mayGrow ? "more" : "role" });
      return;
    }
    const baseline = baselines.get(size);
    if (mayGrow || (baseline !== undefined && isAwaited(baseline, state))) {
      waiting.push({ group, for: "more" });
    } else if (baseline === undefined) waiting.push({ group, for: "baseline" });
    else ready.push({ baseline, powered: group });
  });
  return { ready, waiting };
}

/** True if a file that is not whole yet was begun within the gap around a group. */
function isAwaited({ frames }: FrameGroup, { pendingMs, gapMs }: PlanState): boolean {
  const first = frames[0]!.mtimeMs - gapMs;
  const last = frames[frames.length - 1]!.mtimeMs + gapMs;
  return pendingMs.some((time) => time >= first && time <= last);
}

/** The frames that the job does not have, each once; null if it has all of them. */
function withoutTaken(group: FrameGroup, recorded: ReadonlyMap<string, Role>): FrameGroup | null {
  const known = new Set(recorded.keys());
  const frames = group.frames.filter(({ sha256 }) => {
    if (known.has(sha256)) return false;
    known.add(sha256);
    return true;
  });
  return frames.length === 0 ? null : { ...group, frames };
}
