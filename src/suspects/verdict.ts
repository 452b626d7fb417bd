// suspects: ranked suspects → the answer in one sentence, and the measurement that would settle most.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";

/** A suspect as far as the sentences need it. */
export interface RankedSuspect {
  readonly ref: string;
  readonly side: "top" | "bottom";
  readonly probability: number;
  readonly powerW: number | null;
  readonly normallyWarm: boolean;
}

/** What the sentences are made from. */
export interface VerdictInput {
  readonly suspects: readonly RankedSuspect[];
  readonly hotspots: number;
  /** Hotspots that are neither artefacts nor normally warm. */
  readonly faults: number;
  readonly boardKnown: boolean;
  readonly viewSide: "top" | "bottom" | null;
  readonly aligned: boolean;
  readonly smallestRiseK: number;
  /** Place of the first hotspot, for answers without a board. */
  readonly firstPx: readonly [number, number] | null;
  readonly reflections: number;
}

/** State the answer in one sentence. */
export function sayVerdict(v: VerdictInput): string {
  if (v.hotspots === 0) {
    return `Nothing on the board warmed by more than ${formatSignificant(v.smallestRiseK, 2)} K above its surroundings.`;
  }
  if (!v.boardKnown) {
    const [x, y] = v.firstPx!;
    const others = v.hotspots === 1 ? "" : `, ${v.hotspots - 1} more follow`;
    return `The strongest hotspot is at pixel (${x.toFixed(1)}, ${y.toFixed(1)})${others}; give a board map and a view to name the part.`;
  }
  const open = v.suspects.filter((s) => !s.normallyWarm);
  if (v.faults === 0) return "Only parts that are normally warm heated; no fault shows.";
  const first = open[0];
  if (first === undefined || first.probability < 0.2) {
    return "Something heats, but none of the named parts explains it well.";
  }
  const sure = formatProbability(first.probability);
  const second = open[1];
  if (v.faults > 1 && second !== undefined && second.probability > 0.5) {
    return `${first.ref} (${sure}) and ${second.ref} (${formatProbability(second.probability)}) both heat.`;
  }
  if (first.probability < 0.6 && second !== undefined) {
    return `${first.ref} (${sure}) or ${second.ref} (${formatProbability(second.probability)}) is the source of the heat; the frames can't settle which.`;
  }
  return `${first.ref} is the source of the heat (${sure}).`;
}

/** Name the one capture or reading that would settle most of what is open; null if nothing is. */
export function sayNextStep(v: VerdictInput): string | null {
  if (!v.boardKnown) {
    return v.hotspots === 0
      ? "Raise the current in small steps below the rail's nominal voltage and capture again, or look at the other side: nothing stood out."
      : "Draw a board map and a view: then the hotspot gets a part's name.";
  }
  if (!v.aligned) {
    return "Capture baseline and powered frames again without touching board or camera: these two could not be aligned.";
  }
  const open = v.suspects.filter((s) => !s.normallyWarm);
  const [first, second] = open;
  if (v.faults === 0 || first === undefined) {
    return v.reflections > 0
      ? "Put matte tape on the shiny parts and capture again: they may hide a rise."
      : "Capture the other side, or raise the current in small steps below the rail's nominal voltage: this side shows no fault.";
  }
  if (second !== undefined && second.probability > 0.1 && second.side !== first.side) {
    const other = v.viewSide === "top" ? "bottom" : "top";
    return `Capture the ${other} side: ${first.ref} and ${second.ref} lie on different sides, and the side of the source shows it sharper.`;
  }
  if (second !== undefined && second.probability > 0.1) {
    return `Capture a shorter burst from power-on at a closer distance: before the heat has spread, ${first.ref} and ${second.ref} can be told apart.`;
  }
  if (first.probability < 0.6) {
    return "Capture the other side: the named parts on this side explain the heat poorly.";
  }
  return `Before lifting ${first.ref}, read its power pins to ground with the supply off and compare with a good board.`;
}
