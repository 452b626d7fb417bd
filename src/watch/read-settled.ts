// watch: files of a folder → the whole frames among them; what can't be read is waited for or set aside.
import { ToolError } from "../core/errors.js";
import { isSettled, type SeenFile } from "./see-files.js";
import { tellRole } from "./tell-role.js";
import type { ReadOutcome, WatchOptions, WatchPorts } from "./watch-ports.js";
import { sayOnce, type WatchState } from "./watch-state.js";
import type { Role, WatchedFrame } from "./watched-frame.js";

/** The clock of a share, and a time of whole seconds, may be this much behind, ms. */
const CLOCK_SLACK_MS = 2000;

/** Faults that are not in the file's own bytes: they may pass, so nothing is set aside for them. */
const PASSING: readonly string[] = ["E_FRAME_READ", "E_FRAME_NONE", "E_SCALE_NONE"];

/** Leave out what is older than the job, and say so once. */
export async function leaveOlder(
  state: WatchState,
  ports: WatchPorts,
  options: WatchOptions,
): Promise<SeenFile[]> {
  const files = [...state.seen.values()];
  if (options.older) return files;
  const oldest = state.record.createdMs - CLOCK_SLACK_MS;
  const older = files.filter((file) => file.mtimeMs < oldest);
  if (older.length > 0) await sayOnce("older", { type: "older", files: older }, state, ports);
  return files.filter((file) => file.mtimeMs >= oldest);
}

/** Read what has become whole. A file that can't be read is given its time, and then set aside. */
export async function readSettled(
  files: readonly SeenFile[],
  state: WatchState,
  ports: WatchPorts,
  options: WatchOptions,
): Promise<{ frames: WatchedFrame[]; pending: SeenFile[] }> {
  const frames: WatchedFrame[] = [];
  const pending: SeenFile[] = [];
  for (const path of [...state.read.keys()]) if (!state.seen.has(path)) state.read.delete(path);
  for (const file of files) {
    if (ports.isStopped()) break;
    if (!isSettled(file, ports.now(), options.settleMs)) {
      pending.push(file);
      continue;
    }
    const outcome = await readOnce(file, state, ports, options);
    if (!("fault" in outcome)) {
      frames.push({ ...file, ...outcome, role: roleOf(file, outcome.sha256, state, options) });
      continue;
    }
    const { fault, sha256 } = outcome;
    if (sha256 !== null && state.record.setAside.has(sha256)) continue;
    if (ports.now() - file.sinceMs < options.patienceMs) {
      pending.push(file);
    } else if (sha256 === null || PASSING.includes(fault.code)) {
      await sayOnce(
        `later ${file.path} ${file.mtimeMs}`,
        { type: "later", names: [file.name], fault },
        state,
        ports,
      );
    } else if (!state.said.has(`aside ${sha256}`)) {
      if (await setAside(file, sha256, fault, state, ports)) {
        await sayOnce(`aside ${sha256}`, { type: "setAside", file, fault }, state, ports);
      } else pending.push(file);
    }
  }
  return { frames, pending };
}

/** @returns false if the job is busy and it has to be tried again. */
async function setAside(
  file: SeenFile,
  sha256: string,
  fault: ToolError,
  state: WatchState,
  ports: WatchPorts,
): Promise<boolean> {
  try {
    await ports.setAside(file, sha256, fault);
    return true;
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    await sayOnce(`busy ${error.code}`, { type: "later", names: [file.name], fault: error }, state, ports);
    return false;
  }
}

/** Read a file anew only if it changed, or if its fault may have passed. */
async function readOnce(
  file: SeenFile,
  state: WatchState,
  ports: WatchPorts,
  options: WatchOptions,
): Promise<ReadOutcome> {
  const known = state.read.get(file.path);
  const now = ports.now();
  const isSame = known !== undefined && known.file.sinceMs === file.sinceMs;
  const mayPass =
    known !== undefined &&
    "fault" in known.outcome &&
    (known.outcome.sha256 === null || PASSING.includes(known.outcome.fault.code)) &&
    now - known.atMs >= options.patienceMs / 2;
  if (isSame && !mayPass) return known.outcome;
  const outcome = await ports.read(file);
  state.read.set(file.path, { file, outcome, atMs: now });
  return outcome;
}

function roleOf(file: SeenFile, sha256: string, state: WatchState, options: WatchOptions): Role | null {
  if (options.tell === "order") return null;
  return (
    tellRole(file.name, options.patterns) ??
    state.record.roles.get(sha256) ??
    state.answers.get(sha256) ??
    null
  );
}
