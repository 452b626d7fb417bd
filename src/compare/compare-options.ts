// compare: what a caller gives a comparison.

import type { Note } from "../core/notes.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Action } from "./comparison-schema.js";
import type { Profile } from "./profile-schema.js";

/** Options of `compareFindings`. */
export interface CompareOptions {
  /** What was done to which part between the attempts. */
  readonly actions: readonly Action[];
  /** What healthy boards of the same map show; null where nobody measured any. */
  readonly healthy: Profile | null;
  /** Of the changes told, this share may be none. */
  readonly falseDiscoveryRate: number;
  /** File names, for the comparison and its errors. */
  readonly beforeFile: string | null;
  readonly afterFile: string | null;
  readonly toolVersion: string;
  /** Notes from the readers, to be kept with the comparison. */
  readonly notes: readonly Note[];
}

/** Defaults of `compareFindings`. */
export const COMPARE_DEFAULTS: CompareOptions = Object.freeze({
  actions: Object.freeze([]),
  healthy: null,
  /** One change in fifty that is told is none. */
  falseDiscoveryRate: 0.02,
  beforeFile: null,
  afterFile: null,
  toolVersion: TOOL_VERSION,
  notes: Object.freeze([]),
});
