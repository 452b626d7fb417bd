// watch: a folder that frames drop into, and a job → attempts, one after the other, until it is told to stop.
import { ToolError } from "../core/errors.js";
import { groupFrames, recordedRole, rolesByOrder } from "./group-frames.js";
import { type PlannedAttempt, planAttempts, type WaitingGroup } from "./plan-attempts.js";
import { leaveOlder, readSettled } from "./read-settled.js";
import { seeFiles } from "./see-files.js";
import type { WatchOptions, WatchPorts } from "./watch-ports.js";
import { sayAnew, sayOnce, type WatchState } from "./watch-state.js";
import type { FrameGroup, ListedFile, WatchedFrame } from "./watched-frame.js";

/** Faults of the moment in adding an attempt. */
const BUSY: readonly string[] = ["E_JOB_LOCKED", "E_JOB_WRITE"];

/** Watch a folder. All that it knows is in the folder and in the job: a run that was killed at any moment is gone on
 *  with by the next one, and no frame is taken twice, for frames are known by their SHA-256.
 *  @throws what the ports throw that is no ToolError; ToolErrors of `record`. */
export async function watchFolder(ports: WatchPorts, options: WatchOptions): Promise<void> {
  const state: WatchState = {
    seen: new Map(),
    read: new Map(),
    answers: new Map(),
    refused: new Set(),
    said: new Set(),
    lastChangeMs: ports.now(),
    record: await ports.record(),
  };
  // A folder that is not there at the start is a slip; one that goes later may come back.
  let listing: readonly ListedFile[] | null = await ports.list();
  while (!ports.isStopped()) {
    const isIdle = listing !== null && (await lookOnce(listing, state, ports, options));
    if (options.once && isIdle) return;
    if (!ports.isStopped()) await ports.pause(options.pollMs);
    listing = await listAgain(state, ports);
  }
}

async function listAgain(state: WatchState, ports: WatchPorts): Promise<readonly ListedFile[] | null> {
  try {
    const listing = await ports.list();
    sayAnew("unlisted", state);
    return listing;
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    await sayOnce("unlisted", { type: "later", names: [], fault: error }, state, ports);
    return null;
  }
}

/** Look at the folder and do what can be done.
 *  @returns true if nothing will change by waiting alone. */
async function lookOnce(
  listing: readonly ListedFile[],
  state: WatchState,
  ports: WatchPorts,
  options: WatchOptions,
): Promise<boolean> {
  const now = ports.now();
  const before = state.seen;
  state.seen = seeFiles(before, listing, now);
  const isChanged =
    state.seen.size !== before.size || [...state.seen.values()].some((file) => file.sinceMs === now);
  if (isChanged) state.lastChangeMs = now;
  const files = await leaveOlder(state, ports, options);
  const { frames, pending } = await readSettled(files, state, ports, options);

  for (;;) {
    const groups = await tellGroups(frames, state, ports, options);
    const plan = planAttempts(groups, {
      recorded: state.record.roles,
      pendingMs: pending.map((file) => file.mtimeMs),
      quietMs: ports.now() - state.lastChangeMs,
      gapMs: options.gapMs,
    });
    const ready = plan.ready.find(({ powered }) => !state.refused.has(keyOf(powered)));
    if (ready === undefined || ports.isStopped()) {
      for (const waiting of plan.waiting) await sayWaiting(waiting, state, ports);
      return pending.length === 0 && plan.waiting.every((waiting) => waiting.for !== "more");
    }
    // Another process may have added to the job meanwhile.
    state.record = await ports.record();
    if (ready.powered.frames.some(({ sha256 }) => state.record.roles.has(sha256))) continue;
    if (!(await addOne(ready, state, ports))) return false;
    state.record = await ports.record();
  }
}

/** @returns false if it has to be tried again later. */
async function addOne(planned: PlannedAttempt, state: WatchState, ports: WatchPorts): Promise<boolean> {
  try {
    await ports.add(planned);
    for (const code of BUSY) sayAnew(`busy ${code}`, state);
    return true;
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    const names = planned.powered.frames.map((frame) => frame.name);
    if (BUSY.includes(error.code)) {
      await sayOnce(`busy ${error.code}`, { type: "later", names, fault: error }, state, ports);
      return false;
    }
    state.refused.add(keyOf(planned.powered));
    await ports.say({ type: "refused", names, fault: error });
    return true;
  }
}

/** Group frames and tell the role of each group, by asking where nothing else does. */
async function tellGroups(
  frames: readonly WatchedFrame[],
  state: WatchState,
  ports: WatchPorts,
  options: WatchOptions,
): Promise<FrameGroup[]> {
  if (options.tell === "order") return rolesByOrder(groupFrames(frames, options.gapMs), state.record.roles);
  const told = frames.map((frame) => ({
    ...frame,
    role: frame.role ?? state.answers.get(frame.sha256) ?? null,
  }));
  const groups = groupFrames(told, options.gapMs);
  const { ask } = ports;
  if (ask === null) return groups;
  const asked: FrameGroup[] = [];
  for (const [i, group] of groups.entries()) {
    const known = group.role ?? recordedRole(group, state.record.roles);
    const mayGrow = i === groups.length - 1 && ports.now() - state.lastChangeMs < options.gapMs;
    const isAsked = group.frames.every((frame) => state.answers.has(frame.sha256));
    if (known !== null || mayGrow || isAsked || ports.isStopped()) {
      asked.push({ ...group, role: known });
      continue;
    }
    const role = await ask(group);
    for (const { sha256 } of group.frames) state.answers.set(sha256, role);
    asked.push({ ...group, role });
  }
  return asked;
}

async function sayWaiting(waiting: WaitingGroup, state: WatchState, ports: WatchPorts): Promise<void> {
  if (waiting.for === "more" || state.answers.get(waiting.group.frames[0]!.sha256) === null) return;
  await sayOnce(`${waiting.for} ${keyOf(waiting.group)}`, { type: "waiting", waiting }, state, ports);
}

function keyOf(group: FrameGroup): string {
  return group.frames.map((frame) => frame.sha256).join(" ");
}
