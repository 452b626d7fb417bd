// findings: what an analysis found, between the stages and the words.
import type { SourceFit } from "../sources/source-fit.js";
import type { Artefact } from "./findings-schema.js";
import type { StrangeRise } from "./judge-artefacts.js";
import type { BesideSeed, HotspotSeed } from "./measure-hotspot.js";

/** What was found, before it is put into words. */
export interface Found {
  /** Ranked. */
  readonly seeds: readonly HotspotSeed[];
  /** What may heat beside one of them, and may not; they come after all others. */
  readonly beside: readonly BesideSeed[];
  readonly artefacts: readonly Artefact[];
  /** Those that no mirrored person makes. */
  readonly strange: readonly StrangeRise[];
  readonly fit: SourceFit | null;
}
