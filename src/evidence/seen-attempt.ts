// evidence: findings of an attempt → what it says of where the fault's heat is.
import type { Findings, Hotspot } from "../findings/findings-schema.js";

/** A hotspot that is not a healthy board's, by part. */
export interface FaultHeat {
  readonly rank: number;
  /** Probability of each named part, by key. */
  readonly named: ReadonlyMap<string, number>;
  /** That it is none of them. */
  readonly rest: number;
  readonly powerW: number | null;
}

/** What one attempt says. */
export interface SeenAttempt {
  readonly number: number;
  /** Its place in the journal. */
  readonly seq: number;
  /** How many changes of the board lie before it. */
  readonly state: number;
  /** Name of the board in the job; "" where there is none. */
  readonly board: string;
  readonly sides: readonly ("top" | "bottom")[];
  /** The same for attempts from the same camera position. */
  readonly viewKey: string;
  /** False where no part could be named: it counts for nothing then. */
  readonly placed: boolean;
  readonly heat: readonly FaultHeat[];
  /** Parts that show the heat of a healthy board. */
  readonly warm: ReadonlySet<string>;
  /** Fewest watts in a part that would surely have been found, by key; null: none of its heat is in view. */
  readonly limitsW: ReadonlyMap<string, number | null>;
  /** What the fit would explain by heat in each part that no hotspot names, half of a χ²; those alone that it was asked for. */
  readonly tried: ReadonlyMap<string, number>;
  /** Parts that no view sees, for they are on the other side or out of the frame. */
  readonly hidden: ReadonlySet<string>;
  readonly volts: number | null;
  readonly findings: Findings;
}

/** The limit is that of heat which the board around a part shows; a face that shows itself is found with less. */
const FACE_SHARE = 0.5;

/** A hotspot is taken to be a healthy board's own if its first part, with at least this chance, is warm on good boards. */
export const SURELY_WARM = 0.5;

/** Name of a part over all boards of a job. */
export function partKey(board: string, ref: string): string {
  return `${board}\n${ref}`;
}

/** Read an attempt's findings.
 *  @param place.placed the attempt had a map and a view.
 *  @param healthy refs that were found to heat on a good board too.
 */
export function seeAttempt(
  findings: Findings,
  place: Pick<SeenAttempt, "number" | "seq" | "state" | "board" | "sides" | "viewKey" | "placed">,
  healthy: ReadonlySet<string>,
): SeenAttempt {
  const warmRefs = new Set(
    findings.suspects
      .filter(({ normallyWarm, hotspot }) => normallyWarm && hotspot !== null)
      .map(({ ref }) => ref),
  );
  const warmRanks = new Set(
    findings.suspects.flatMap(({ normallyWarm, hotspot }) =>
      normallyWarm && hotspot !== null ? [hotspot] : [],
    ),
  );
  for (const { rank, nearest } of findings.hotspots) {
    const first = nearest[0];
    if (first === undefined || first.probability < SURELY_WARM || !healthy.has(first.ref)) continue;
    warmRanks.add(rank);
    warmRefs.add(first.ref);
  }
  const faults = findings.hotspots.filter(({ rank }) => !warmRanks.has(rank));
  const limits = (findings.parts ?? []).map(({ ref, limitW, seen, shiny }) => {
    const share = seen && !shiny ? FACE_SHARE : 1;
    return [partKey(place.board, ref), limitW === null ? null : share * limitW] as const;
  });
  return {
    ...place,
    placed:
      place.placed &&
      (findings.hotspots.length === 0 || findings.hotspots.some(({ nearest }) => nearest.length > 0)),
    heat: faults.map((hotspot) => faultHeat(hotspot, place.board)),
    warm: new Set([...warmRefs].map((ref) => partKey(place.board, ref))),
    limitsW: new Map(limits),
    tried: triedIn(findings, place.board, warmRefs),
    hidden: new Set(
      (findings.parts ?? []).flatMap(({ ref, seen }) => (seen ? [] : [partKey(place.board, ref)])),
    ),
    volts: findings.inputs.volts,
    findings,
  };
}

function triedIn(
  { hotspots, parts }: Findings,
  board: string,
  warm: ReadonlySet<string>,
): ReadonlyMap<string, number> {
  const named = new Set(hotspots.flatMap(({ nearest }) => nearest.map(({ ref }) => ref)));
  const tried = new Map<string, number>();
  for (const { ref, normallyWarm, triedEvidence, mirrored = false } of parts ?? []) {
    // A face that was weighed against the room, and lost, has no more to say.
    if (normallyWarm || mirrored || warm.has(ref) || named.has(ref)) continue;
    if (typeof triedEvidence !== "number") continue;
    tried.set(partKey(board, ref), triedEvidence);
  }
  return tried;
}

function faultHeat({ rank, nearest, powerW }: Hotspot, board: string): FaultHeat {
  const named = new Map<string, number>();
  for (const { ref, probability } of nearest) {
    named.set(partKey(board, ref), (named.get(partKey(board, ref)) ?? 0) + probability);
  }
  const sum = [...named.values()].reduce((all, p) => all + p, 0);
  return { rank, named, rest: Math.max(0, 1 - sum), powerW };
}
