// page: the open job and the attempt of the address → what each section of it is given.
import type { JobState } from "../../api/jobs-schema.js";

/** What every section of a job is given. */
export interface SectionProps {
  readonly state: JobState;
  /** Attempt of the address; null: none is named. */
  readonly attempt: number | null;
}
