// suspects: ranked suspects → the answer in one sentence.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import type { UnmappedChange } from "./next-step.js";

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
  /** The largest change that is neither heat in this board nor a person who was mirrored; null without one. */
  readonly strange: { readonly px: readonly [number, number]; readonly riseK: number } | null;
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
  const open = v.suspects.filter((s) => !s.normallyWarm);
  if (v.faults === 0) return "Only parts that are normally warm heated; no fault shows.";
  const first = open[0];
  if (v.byPowerAlone && first !== undefined && first.probability < ALONE_NAMED) {
    return `No fault surely shows; if a part heats that should not, it is most probably ${first.ref} (${formatProbability(first.probability)}).`;
  }
  if (first === undefined || first.probability < LEAST_NAMED) {
    return "Something heats, but none of the named parts explains it well.";
  }
  const sure = formatProbability(first.probability);
  const second = open[1];
  if (v.faults > 1 && second !== undefined && second.probability > BOTH_HEAT) {
    return `${first.ref} (${sure}) and ${second.ref} (${formatProbability(second.probability)}) both heat${alsoBeside(v)}.`;
  }
  if (first.probability < ALONE_NAMED && second !== undefined) {
    return `${first.ref} (${sure}) or ${second.ref} (${formatProbability(second.probability)}) is the source of the heat; the frames can't settle which.`;
  }
  return `${first.ref} is the source of the heat (${sure})${alsoBeside(v)}.`;
}

/** Name the part beside a source that may heat as well, to end a sentence; nothing where that is hardly probable. */
function alsoBeside({ beside: [first] }: VerdictInput): string {
  if (first === undefined || first.probability < LEAST_NAMED) return "";
  return `; ${first.ref} right beside it may heat as well (${formatProbability(first.probability)})`;
}
