// page: a job without an attempt → the way to its frames, with what is left to do there.
import type { JobState } from "../../api/jobs-schema.js";
import { sectionHash } from "../state/route.js";

/** Lead to the frames: they are to be dropped, or, with some of both roles there, analysed. */
export function FramesLink({ state, ...more }: { readonly state: JobState; readonly class?: string }) {
  const has = (role: "baseline" | "powered"): boolean => state.inbox.files.some((file) => file.role === role);
  return (
    <a {...more} href={sectionHash(state.id, "frames")}>
      {has("baseline") && has("powered") ? "Analyse the frames that were dropped" : "Drop frames"}
    </a>
  );
}
