// sources: what a fit of sources has to tell.
import type { TimeDoubt } from "./doubt-time.js";
import type { HeatBeside } from "./heat-beside.js";
import type { CandidateChance } from "./likeliest-source.js";
import type { PlateState } from "./plate-state.js";
import type { Candidate } from "./source-model.js";
import type { TriedPart } from "./try-parts.js";

/** Watts with what makes them unsure, as in `FittedSource`. */
export interface PowerToTell {
  readonly powerW: number;
  readonly powerLogSigma: number;
  readonly powerNoiseW: number;
  /** Spread of the logarithm of the watts of all sources of the fit together: how heat is divided between two of them
   *  is not in it. */
  readonly totalLogSigma?: number;
  /** Where several states of the plate mean different watts: each state, the same ones for all sources of a fit. */
  readonly byState?: readonly PowerInState[];
}

/** Watts in one state of the plate, 0 where it has none. */
export interface PowerInState {
  /** Chances of all states add up to 1. */
  readonly chance: number;
  readonly powerW: number;
  /** Standard deviation of the logarithm that constants and noise leave. */
  readonly logSigma: number;
}

/** One part that heats. */
export interface FittedSource {
  readonly candidate: Candidate;
  readonly powerW: number;
  readonly powerSigmaW: number;
  /** What that is made of: the spread of the logarithm that the plate's state and constants leave, and the noise's
   *  part, W. */
  readonly powerLogSigma: number;
  readonly powerNoiseW: number;
  /** Watts to be told, where the board as a whole tells them whatever its copper. What is close to the source, and
   *  weighs most in the others, compares better between attempts on the same copper. */
  readonly toTell: PowerToTell | null;
  /** Share of the warmest body possible, 0…1; 0 on the far side. */
  readonly bodyShare: number;
  /** Probability that it heats: neither the room mirrored in it, nor an error of the model beside stronger heat. */
  readonly heatChance: number;
  /** Probability that what it shows is the room mirrored in it. */
  readonly mirrorChance: number;
  /** The most its own rise amounts to as a share of what the other sources spread there. */
  readonly ownShare: number;
  /** How much warmer than the board its body is, as a share of what the other sources spread there. */
  readonly bodyStep: number;
  /** How high a hill the board's own finish may mirror there, as a share of the hill that the source makes on the
   *  plate. */
  readonly mirroredHill: number;
  /** It was taken for heat since power went in and no other part heats more probably: the chance of each that may be
   *  the one; null of a source that stands by itself. */
  readonly byFeed: readonly CandidateChance[] | null;
  /** χ² lost when this source alone is left out, ÷ the residual scale. */
  readonly evidence: number;
  /** Every candidate in this source's place: evidence lost against the best, ≥ 0; best first. */
  readonly alternatives: readonly { readonly candidate: Candidate; readonly loss: number }[];
}

/** Result of `fitSources`. */
export interface SourceFit {
  readonly sources: readonly FittedSource[];
  /** Parts right beside a source that may heat as well, the most probable first; they take no part in the fit. */
  readonly beside: readonly HeatBeside[];
  /** Parts whose change ends at their edge as no heat would: they mirror the room. */
  readonly mirrors: readonly Candidate[];
  /** How far heat had spread. */
  readonly state: PlateState;
  /** Why the time since power-on that was told can hardly be right; null where none was told, or it can be. */
  readonly timeDoubt: TimeDoubt | null;
  /** Fewest watts in each named candidate that would have been found, by the board around it alone. */
  readonly smallestPowersW: ReadonlyMap<Candidate, number>;
  /** What each named candidate would be given beside what was found. */
  readonly tried: ReadonlyMap<Candidate, TriedPart>;
  /** How much the room changed that all faces mirror, K. */
  readonly roomK: number;
  /** By how much χ² overstates the evidence. */
  readonly scale: number;
  /** What neither heat nor nuisances explain, K per pixel. */
  readonly residual: Float32Array;
  /** The rise that the sources make, K per pixel, 0 where one takes no part in the fit. */
  readonly modelled: Float32Array;
  /** … and also where pixels take no part in the fit. */
  readonly heat: Float32Array;
}
