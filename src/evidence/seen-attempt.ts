// evidence: findings of an attempt → what it says of where the fault's heat is.
import type { Findings, Hotspot } from "../findings/findings-schema.js";
import { standingFindings } from "../findings/standing-findings.js";

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
  /** False without a board map and a view: it counts for nothing then. */
  readonly placed: boolean;
  readonly heat: readonly FaultHeat[];
  /** Parts that show the heat of a healthy board. */
  readonly warm: ReadonlySet<string>;
  /** Fewest watts in a part that would surely have been found, by key; null: none of its heat is in view. */
  readonly limitsW: ReadonlyMap<string, number | null>;
  /** What the fit would explain by heat in each part that no hotspot names, half of a χ²; those alone that it was asked
   *  for. */
  readonly tried: ReadonlyMap<string, number>;
  /** Where no fault surely shows and the likeliest part was named since the board had power: its odds, and those of
   *  others, against heat that shows nowhere, × the parts that they were shared between. */
  readonly likeliest: ReadonlyMap<string, number>;
  /** Parts that no view sees, for they are on the other side or out of the frame. */
  readonly hidden: ReadonlySet<string>;
  readonly volts: number | null;
  readonly findings: Findings;
}

/** The limit is that of heat which the board around a part shows; a face that shows itself is found with less. */
const FACE_SHARE = 0.5;

/** A hotspot is taken to be a healthy board's own if its first part, with at least this chance, is warm on good
 *  boards. */
export const SURELY_WARM = 0.5;

/** A flag of hotspots. */
const NAMED_BY_POWER = "namedByPower";
/** Nothing is taken for less probable than this. */
const LEAST_REST = 0.01;

/** Name of a part over all boards of a job. */
export function partKey(board: string, ref: string): string {
  return `${board}\n${ref}`;
}

/** Read an attempt's findings.
 *  @param place.placed the attempt had a map and a view.
 *  @param healthy refs that were found to heat on a good board too.
 */
export function seeAttempt(
  allFound: Findings,
  place: Pick<SeenAttempt, "number" | "seq" | "state" | "board" | "sides" | "viewKey" | "placed">,
  healthy: ReadonlySet<string>,
): SeenAttempt {
  const findings = standingFindings(allFound);
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
  const open = findings.hotspots.filter(({ rank }) => !warmRanks.has(rank));
  const faults = open.filter(({ flags }) => !flags.includes(NAMED_BY_POWER));
  const limits = (findings.parts ?? []).map(({ ref, limitW, seen, shiny }) => {
    const share = seen && !shiny ? FACE_SHARE : 1;
    return [partKey(place.board, ref), limitW === null ? null : share * limitW] as const;
  });
  return {
    ...place,
    heat: faults.map((hotspot) => faultHeat(hotspot, place.board)),
    warm: new Set([...warmRefs].map((ref) => partKey(place.board, ref))),
    limitsW: new Map(limits),
    tried: triedIn(findings, place.board, warmRefs),
    likeliest: likeliestIn(open, findings, place.board),
    hidden: new Set(
      (findings.parts ?? []).flatMap(({ ref, seen }) => (seen ? [] : [partKey(place.board, ref)])),
    ),
    volts: findings.inputs.volts,
    findings,
  };
}

/** What is named by power alone stands for no heat that was seen: such a part is as good as missed, and its odds say
 *  how much rather than others. */
function likeliestIn(
  open: readonly Hotspot[],
  { parts }: Findings,
  board: string,
): ReadonlyMap<string, number> {
  const spot = open.find(({ flags }) => flags.includes(NAMED_BY_POWER));
  if (spot === undefined) return new Map();
  const { named, rest } = faultHeat(spot, board);
  const shared = (parts ?? []).filter(({ normallyWarm }) => !normallyWarm).length;
  return new Map(
    [...named].map(([key, chance]) => [key, (shared * chance) / Math.max(LEAST_REST, rest)] as const),
  );
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
