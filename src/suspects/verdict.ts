// suspects: ranked suspects → the answer in one sentence.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import type { StrangeChange, UnmappedChange } from "./next-step.js";

/** A suspect as far as the sentence needs it. */
export interface RankedSuspect {
  readonly ref: string;
  readonly side: "top" | "bottom";
  readonly probability: number;
  readonly powerW: number | null;
  readonly normallyWarm: boolean;
}

/** What the sentence is made from. */
export interface VerdictInput {
  readonly suspects: readonly RankedSuspect[];
  /** … that may heat right beside a source and may not: no rivals of it; the most probable first. */
  readonly beside: readonly RankedSuspect[];
  readonly hotspots: number;
  /** Hotspots that are neither artefacts nor normally warm. */
  readonly faults: number;
  /** None of them stands by itself: the likeliest was named since the board had power. */
  readonly byPowerAlone: boolean;
  readonly boardKnown: boolean;
  readonly smallestRiseK: number;
  /** Place of the first hotspot, for answers without a board. */
  readonly firstPx: readonly [number, number] | null;
  /** The largest one; null without one. */
  readonly strange: StrangeChange | null;
  /** The largest change, taken for a mirrored one where the map names nothing; null where it is none. */
  readonly unmapped: UnmappedChange | null;
}

/** A first suspect less probable than this is not named: four in five such names would be wrong. */
const LEAST_NAMED = 0.2;
/** Of two faults the second one is said to heat too if it rather does than not. */
const BOTH_HEAT = 0.5;
/** A first suspect less probable than this is named together with the second. */
const ALONE_NAMED = 0.6;

/** State the answer in one sentence. */
export function sayVerdict(v: VerdictInput): string {
  if (v.hotspots === 0 && v.strange !== null) {
    const [x, y] = v.strange.px;
    return `Pixel (${x}, ${y}) changed by ${formatSignificant(v.strange.riseK, 2)} K, but not as heat in this board does; nothing else on it warmed by more than ${formatSignificant(v.smallestRiseK, 2)} K above its surroundings.`;
  }
  if (v.hotspots === 0 && v.unmapped !== null) {
    const [x, y] = v.unmapped.at;
    return `Nothing that the map names warmed by more than ${formatSignificant(v.smallestRiseK, 2)} K above its surroundings; at ${x.toFixed(1)}, ${y.toFixed(1)} mm, where it names nothing, the picture changed by ${formatSignificant(v.unmapped.riseK, 2)} K.`;
  }
  if (v.hotspots === 0) {
    return `Nothing on the board warmed by more than ${formatSignificant(v.smallestRiseK, 2)} K above its surroundings.`;
  }
  if (!v.boardKnown) {
    const [x, y] = v.firstPx!;
    const more = v.hotspots - 1;
    const others = more === 0 ? "" : `, ${more} more ${more === 1 ? "follows" : "follow"}`;
    return `The strongest hotspot is at pixel (${x.toFixed(1)}, ${y.toFixed(1)})${others}; give a board map and a view to name the part.`;
  }
  if (v.faults === 0) return "Only parts that are normally warm heated; no fault shows.";
  const [first, second] = namedParts(v);
  if (first === undefined) return "Something heats, but none of the named parts explains it well.";
  const sure = formatProbability(first.probability);
  if (isFaint(v, first)) {
    return `No fault surely shows; if a part heats that should not, it is most probably ${first.ref} (${sure}).`;
  }
  if (second === undefined) return `${first.ref} is the source of the heat (${sure})${alsoBeside(v)}.`;
  const other = `${second.ref} (${formatProbability(second.probability)})`;
  return bothHeat(v, second)
    ? `${first.ref} (${sure}) and ${other} both heat${alsoBeside(v)}.`
    : `${first.ref} (${sure}) or ${other} is the source of the heat; the frames can't settle which.`;
}

/** The parts that the sentence names as what heats: none, one, or two; not the one right beside a source. */
export function namedParts(v: VerdictInput): RankedSuspect[] {
  if (v.hotspots === 0 || !v.boardKnown || v.faults === 0) return [];
  const [first, second] = v.suspects.filter((s) => !s.normallyWarm);
  if (first === undefined) return [];
  if (isFaint(v, first)) return [first];
  if (first.probability < LEAST_NAMED) return [];
  const isOpen = first.probability < ALONE_NAMED;
  return second !== undefined && (isOpen || bothHeat(v, second)) ? [first, second] : [first];
}

/** Nothing stands by itself, and the likeliest part is not likely. */
function isFaint({ byPowerAlone }: VerdictInput, first: RankedSuspect): boolean {
  return byPowerAlone && first.probability < ALONE_NAMED;
}

/** The second part is another fault, and no rival of the first. */
function bothHeat({ faults }: VerdictInput, second: RankedSuspect): boolean {
  return faults > 1 && second.probability > BOTH_HEAT;
}

/** Name the part beside a source that may heat as well, to end a sentence; nothing where that is hardly probable. */
function alsoBeside({ beside: [first] }: VerdictInput): string {
  if (first === undefined || first.probability < LEAST_NAMED) return "";
  return `; ${first.ref} right beside it may heat as well (${formatProbability(first.probability)})`;
}
