// watch: what a run of the watcher remembers → a type, and things that are said once.
import type { SeenFile } from "./see-files.js";
import type { ReadOutcome, WatchEvent, WatchPorts } from "./watch-ports.js";
import type { JobRecord, Role } from "./watched-frame.js";

/** What a run remembers. None of it outlives the run: the folder and the job hold all that has to. */
export interface WatchState {
  seen: Map<string, SeenFile>;
  /** By path, as long as the file stays the same. */
  readonly read: Map<
    string,
    { readonly file: SeenFile; readonly outcome: ReadOutcome; readonly atMs: number }
  >;
  /** Roles that a person gave, by SHA-256; null: to be left alone. */
  readonly answers: Map<string, Role | null>;
  /** Groups that the job refused. */
  readonly refused: Set<string>;
  readonly said: Set<string>;
  lastChangeMs: number;
  record: JobRecord;
}

/** Say something unless it was said before.
 *  @param key what it is about. */
export async function sayOnce(
  key: string,
  event: WatchEvent,
  state: WatchState,
  ports: WatchPorts,
): Promise<void> {
  if (state.said.has(key)) return;
  state.said.add(key);
  await ports.say(event);
}

/** Something that was said is over: when it comes again, it is said again. */
export function sayAnew(key: string, state: WatchState): void {
  state.said.delete(key);
}
