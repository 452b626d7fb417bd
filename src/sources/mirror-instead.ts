// sources: a part on the far side taken to heat → the face in view that may mirror the room instead.
import type { CandidatePool } from "./candidate-pool.js";
import { mirrorOf } from "./recast-candidate.js";
import type { Candidate } from "./source-model.js";

/** Find what may mirror the room where a part on the far side is taken to heat: a face that no map names, whose own
 *  change leaves that part too little to explain. Null if there is none.
 *  @param set what was found before.
 *  @param places faces to try, of those no map names.
 *  @param least χ² that a mirror and that the part must explain.
 */
export function mirrorInstead(
  pool: CandidatePool,
  set: readonly Candidate[],
  part: Candidate,
  places: readonly Candidate[],
  least: { readonly mirror: number; readonly part: number },
): Candidate | null {
  const { gain } = pool.fitSet(set);
  for (const place of places) {
    const mirror = mirrorOf(place);
    const alone = pool.fitSet([...set, mirror]);
    const both = pool.fitSet([...set, mirror, part]);
    if (alone.gain - gain < least.mirror) continue;
    if (both.gain - alone.gain < least.part) return mirror;
  }
  return null;
}
