// page: what the server tells of its own accord → the signals that it changes.
import { type Signal, signal } from "@preact/signals";
import { EVENTS_PATH } from "../../api/endpoints.js";
import type { ServerEvent } from "../../api/event-schema.js";
import { sendDrafts } from "./draft.js";
import { refreshJob, refreshJobs, takeInbox } from "./job-data.js";
import { route } from "./route.js";
import { noteTask } from "./tasks.js";

/** True while the server can be heard. */
export const isConnected: Signal<boolean> = signal(true);
/** Silence is shown after this long, ms: a server that restarts is back sooner. */
const PATIENCE_MS = 2000;

/** Listen to the server for as long as the page is open; the browser connects again by itself. */
export function listenToServer(): void {
  const events = new EventSource(EVENTS_PATH);
  let timer: ReturnType<typeof setTimeout> | undefined;
  events.onopen = () => {
    clearTimeout(timer);
    isConnected.value = true;
  };
  events.onerror = () => {
    clearTimeout(timer);
    timer = setTimeout(() => {
      isConnected.value = events.readyState === EventSource.OPEN;
    }, PATIENCE_MS);
    // A refusal ends the stream for good; a server that comes back is found by asking again.
    if (events.readyState === EventSource.CLOSED) setTimeout(listenToServer, PATIENCE_MS);
  };
  events.onmessage = ({ data }: MessageEvent<string>) => take(JSON.parse(data) as ServerEvent);
}

function take(event: ServerEvent): void {
  const open = route.value.page === "job" ? route.value.job : null;
  switch (event.type) {
    case "hello":
      void refreshJobs();
      void refreshJob();
      sendDrafts();
      break;
    case "jobs":
      void refreshJobs();
      break;
    case "job":
      if (event.job === open) void refreshJob();
      break;
    case "inbox":
      if (event.job === open) takeInbox(event.files, event.removed);
      break;
    case "task":
      noteTask(event.task);
      break;
  }
}
