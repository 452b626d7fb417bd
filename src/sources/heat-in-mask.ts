// sources: a search that found no fault → the one part whose heat the board between all faces shows.
import type { ChangedRoom } from "./changed-room.js";
import { LEAST_HIDDEN, withoutOutline } from "./evidence-off-face.js";
import type { NuisanceColumn } from "./nuisance-columns.js";
import { heatUnderMirror, isFault } from "./recast-candidate.js";
import type { Candidate, SourceModel } from "./source-model.js";
import type { SourceSearch } from "./source-search.js";

/** Part and state of the plate each depend on the other: so often one is chosen with the other as it is. */
const MOST_TURNS = 3;

/** What the search for it is laid out with. */
export interface MaskProblem {
  /** Noise of each pixel, K². Not modified. */
  readonly variance: Float32Array;
  /** 1 = a pixel that changed as no heat of the board could. */
  readonly strange: Uint8Array;
  readonly nuisance: readonly NuisanceColumn[];
  readonly room: ChangedRoom;
  /** Free places: what ends there as a face does may be a part that no map names; a hill is what parts behind make. */
  readonly places: readonly Candidate[];
}

/** Look for one part that heats in what the bare board shows, with all faces left out.
 *  Heat from below shows in every face over it by as much as its finish differs from the map's, and a board that has
 *  warmed by kelvins then has many faces that seem to mirror, parts that seem to heat, and a scale that hides the rest.
 *  The mask between them is one finish and one plate. All its pixels are told from noise alone: what the plate gets
 *  wrong is in the scale; and the priors of smooth change are what drift and the room do, whatever the scale: a hill of
 *  a kelvin is no drift because the plate fits it to a tenth.
 *  @param found a search that has ended; not modified. @param listed of it: parts that warm anyway heat beside; faults
 *  are held against the one, unless their own faces tell of any.
 *  @param leastEvidence of each fault beyond one.
 *  @returns the search, its set that part; null where what explains most warms anyway, or is in view: that was judged
 *  by its face, or by its rim where that mirrors.
 */
export function heatInMask(
  found: SourceSearch,
  { variance, strange, nuisance, room, places }: MaskProblem,
  listed: ReadonlySet<Candidate>,
  leastEvidence: number,
  make: (candidates: readonly Candidate[]) => SourceSearch,
): SourceSearch | null {
  const { model } = found;
  const parts = model.candidates.filter(({ kind }) => kind === "heat");
  const candidates = [...parts, ...places.filter(({ face }) => face?.sharp === true)].map(heatUnderMirror);
  if (!candidates.some((one) => isBehind(model, one))) return null;
  if ([...listed].some((one) => isFault(one) && tellsItself(model, one))) return null;
  const bare = bareBoard(model, variance, strange);
  const footprints = new Set([...listed].map(({ footprint }) => footprint));
  const told = candidates.filter(({ footprint }) => footprints.has(footprint));
  const base = told.filter((one) => !isFault(one));
  const run = make(candidates);
  run.state = found.state;
  run.set = base;
  let scale = 1;
  for (let pass = 0; pass < 2; pass++) {
    // χ² is divided by the scale afterwards, what drift costs is not to be.
    const columns = nuisance.map((one) => ({ ...one, priorSigma: one.priorSigma / Math.sqrt(scale) }));
    run.prepare(bare, columns, room);
    run.fitAgain();
    if (!chooseOne(run, base, candidates)) return null;
    scale = run.scale;
  }
  const best = run.set.at(-1)!;
  if (told.length > base.length) {
    const more = run.pool.fitSet(told).gain - run.answer.gain;
    if (told.includes(best) && told.length === base.length + 1) return null;
    if (more >= (told.length - base.length - 1) * leastEvidence * run.scale) return null;
  }
  return isFault(best) && isBehind(model, best) ? run : null;
}

/** True for a part that no picture can show. */
export function isBehind({ pictures }: SourceModel, { side }: Candidate): boolean {
  return pictures.every(({ view }) => view.side !== side);
}

/** True for a part in view whose face, or whose rim where the map says that it mirrors, was seen to heat: not for heat
 *  under a face that was only taken for a mirror, which the board alone tells as it does of one behind, and which takes
 *  a finish other than the map's. */
function tellsItself(model: SourceModel, one: Candidate): boolean {
  if (isBehind(model, one)) return false;
  const part = model.candidates.find(({ footprint }) => footprint === one.footprint);
  return one.body !== null || part === undefined || part.body === null;
}

/** Choose part and state in turn; false where nothing explains anything. */
function chooseOne(run: SourceSearch, base: readonly Candidate[], candidates: readonly Candidate[]): boolean {
  const open = candidates.filter((one) => !base.includes(one));
  for (let turn = 0; turn < MOST_TURNS; turn++) {
    const best = run.pool.bestToAdd(base, open, (_, gained) => gained);
    if (best === null) return false;
    if (best === run.set.at(-1)) break;
    run.set = [...base, best];
    run.fitAgain();
    if (!run.chooseState()) break;
  }
  return true;
}

/** Leave out all faces, as far as the optics spread them, the outline, and what no heat explains. */
function bareBoard(model: SourceModel, variance: Float32Array, strange: Uint8Array): Float32Array {
  const bare = withoutOutline(model.pictures, variance);
  for (let i = 0; i < bare.length; i++) if (strange[i] === 1) bare[i] = Number.NaN;
  for (const { body } of model.candidates) {
    body?.at?.forEach((pixel, k) => {
      if (body.values[k]! >= LEAST_HIDDEN) bare[pixel] = Number.NaN;
    });
  }
  return bare;
}
