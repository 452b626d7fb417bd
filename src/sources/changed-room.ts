// sources: – → what the search for sources knows of the room.
import type { MirroredRoom } from "./mirrored-room.js";
import type { Candidate } from "./source-model.js";

/** What the faces in view tell of the room. */
export interface ChangedRoom {
  /** How much it changed that all faces mirror, K. */
  readonly roomK: number;
  /** … and what those show that mirror well. */
  readonly mirrored: readonly MirroredRoom[];
  /** … and how much of it dull ones show. */
  readonly dullFactor: (candidate: Candidate) => number;
}
