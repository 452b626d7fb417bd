// page: long work of the server → signals that follow it.
import { type Signal, signal } from "@preact/signals";
import { callApi } from "../../api/call-api.js";
import type { Task } from "../../api/task-schema.js";
import { faultText } from "../show/fault-text.js";
import { announce, announceError } from "./announce.js";
import { attemptPictures } from "./attempt-pictures.js";
import { jobState } from "./job-data.js";
import { go, route, type Section, sectionHash } from "./route.js";

/** Work by its id, as events told. */
const tasks: Signal<Readonly<Record<string, Task>>> = signal({});
/** Attempts that this page began: it goes to their answers when they are done. */
const mine = new Set<string>();

/** Take news of a task. */
export function noteTask(task: Task): void {
  const before = tasks.value[task.id];
  // What has ended does not go on: an answer may come after the event that tells of the end.
  if (before !== undefined && !isGoing(before) && isGoing(task)) return;
  tasks.value = { ...tasks.value, [task.id]: task };
  if (before?.state === task.state) return;
  if (task.state === "failed" && task.error !== null) {
    announce(faultText(task.error), true);
  }
  if (task.state === "done" && task.kind === "attempt" && task.attempt !== null) {
    announce(`Attempt ${task.attempt} is analysed.`);
    if (mine.delete(task.id) && waitsFor(task.job)) {
      // They come while the job is asked for; whoever shows them is told where they can't be had.
      attemptPictures(task.job, task.attempt, 0).catch(() => {});
      go(sectionHash(task.job, "answer", task.attempt));
    }
  }
  if (task.state === "cancelled")
    announce("Stopped. Nothing was added to the job, and the frames are still here.");
}

/** Sections on which a person waits for the answer. On the others something may be half typed: there it is only told
 *  of. */
const WAITING: readonly Section[] = ["frames", "answer", "attempts"];

function waitsFor(job: string): boolean {
  const now = route.value;
  return now.page === "job" && now.job === job && WAITING.includes(now.section);
}

/** Remember that this page began a task. */
export function followTask(task: Task): void {
  mine.add(task.id);
  noteTask(task);
}

/** Stop a task. */
export async function stopTask(id: string): Promise<void> {
  try {
    noteTask((await callApi("cancelTask", { task: id })).task);
  } catch (error) {
    announceError(error);
  }
}

/** Tasks of a job, the latest first: those of events, and those that its state brought. */
export function tasksOf(job: string): readonly Task[] {
  const known = new Map<string, Task>();
  for (const task of jobState.value?.tasks ?? []) known.set(task.id, task);
  for (const task of Object.values(tasks.value)) known.set(task.id, task);
  return [...known.values()].filter((task) => task.job === job);
}

/** True while a task is not at its end. */
export function isGoing({ state }: Task): boolean {
  return state === "waiting" || state === "running";
}
