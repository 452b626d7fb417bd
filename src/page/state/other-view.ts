// page: frames of the inbox that show the board from another side or place → kept until an attempt is made of them.
import { type Signal, signal } from "@preact/signals";
import { announceError } from "./announce.js";
import { loadDraft, saveDraftSoon } from "./draft.js";

/** Name of the draft that keeps them. */
const DRAFT = "other-view";

/** SHA-256 of the frames of the other view, by the job's id. */
export const otherFrames: Signal<Readonly<Record<string, readonly string[]>>> = signal({});

/** Fetch which frames of a job are of the other view, unless it is known. */
export function followOtherFrames(job: string): void {
  if (otherFrames.peek()[job] !== undefined) return;
  loadDraft(job, DRAFT).then((draft) => {
    const kept = Array.isArray(draft) ? draft.filter((one): one is string => typeof one === "string") : [];
    otherFrames.value = { ...otherFrames.value, [job]: kept };
  }, announceError);
}

/** Say that frames are of the other view, or that they are not. */
export function setOtherFrames(job: string, frames: readonly string[], isOther: boolean): void {
  const rest = (otherFrames.value[job] ?? []).filter((one) => !frames.includes(one));
  const now = isOther ? [...rest, ...frames] : rest;
  otherFrames.value = { ...otherFrames.value, [job]: now };
  saveDraftSoon(job, DRAFT, () => now);
}
