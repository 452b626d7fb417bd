// cli: what happened in a watched folder → a sentence for the terminal, and facts for JSON.
import { ToolError } from "../core/errors.js";
import type { WaitingGroup } from "../watch/plan-attempts.js";
import type { WatchEvent } from "../watch/watch-ports.js";

/** Word an event; null where there is nothing to be said. */
export function eventText(event: WatchEvent): string | null {
  switch (event.type) {
    case "older": {
      const count = event.files.length === 1 ? "1 file is" : `${event.files.length} files are`;
      return `${count} older than the job and left alone (${listNames(event.files.map(({ name }) => name))}); --older takes them too.`;
    }
    case "setAside":
      return `${event.file.name} was set aside, a copy is in the job's folder aside/frames: ${event.fault.message}`;
    case "later":
      return `${event.names.length === 0 ? "The folder" : listNames(event.names)} has to wait, and is tried again: ${event.fault.message}`;
    case "refused":
      return `${listNames(event.names)} is no attempt; the frames stay where they are, and the next run tries them again: ${event.fault.message}`;
    case "waiting":
      return waitingText(event.waiting);
  }
}

/** The facts of an event, without what only the process needs. */
export function eventFacts(event: WatchEvent): object {
  switch (event.type) {
    case "older":
      return { type: event.type, files: event.files.map(({ name }) => name) };
    case "setAside":
      return { type: event.type, file: event.file.name, code: event.fault.code, reason: event.fault.message };
    case "waiting":
      return {
        type: event.type,
        files: event.waiting.group.frames.map(({ name }) => name),
        for: event.waiting.for,
      };
    default:
      return { type: event.type, files: event.names, code: event.fault.code, reason: event.fault.message };
  }
}

/** Name one or two files; of more, the first and the last. */
export function listNames(names: readonly string[]): string {
  if (names.length <= 2) return names.join(", ");
  return `${names[0]} … ${names[names.length - 1]} (${names.length} files)`;
}

function waitingText({ group, for: reason }: WaitingGroup): string | null {
  const names = group.frames.map(({ name }) => name);
  const { width, height } = group.frames[0]!;
  if (reason === "more") return null;
  if (reason === "baseline") {
    return `${listNames(names)}: powered frames of ${width}×${height} wait for a baseline of that size before them.`;
  }
  return new ToolError("E_WATCH_ROLE", {
    problem: `nothing tells whether ${listNames(names)} ${names.length === 1 ? "is" : "are"} baseline or powered`,
    fix: "Put off or on into the names, give --baseline-names or --powered-names, or use --order",
  }).message;
}
