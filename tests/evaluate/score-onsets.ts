// evaluate: a burst's truth and an answer → how far off the onsets are that the answer states.
import { distanceToPolygon } from "../simulate/polygons.js";
import type { Scene } from "../simulate/scene.js";
import type { Answer, AnswerHotspot } from "./answer.js";

/** One part that heats, in a burst. */
export interface OnsetScore {
  /** Null where no hotspot stands at the part, or none of its onset is stated. */
  readonly errorS: number | null;
  /** Standard deviation stated, s; null where none is. */
  readonly sigmaS: number | null;
  /** Seconds from one frame to the next. */
  readonly intervalS: number;
}

/** A hotspot this near to a part that heats, px, is taken to mean it. */
const MATCH_PX = 3;

/** Score the onset of every part that heats; nothing outside bursts. */
export function scoreOnsets(scene: Scene, answer: Answer): OnsetScore[] {
  const { rateHz, cycleS, truth } = scene;
  if (rateHz === null || cycleS !== null) return [];
  return truth.sources.map((source) => {
    let best: { spot: AnswerHotspot; distance: number } | null = null;
    for (const spot of answer.hotspots) {
      const distance = distanceToPolygon(source.polygonPx, ...spot.px);
      const nearer = truth.sources.some(
        (other) => other !== source && distanceToPolygon(other.polygonPx, ...spot.px) < distance,
      );
      if (distance > MATCH_PX || nearer || (best !== null && best.distance <= distance)) continue;
      best = { spot, distance };
    }
    const onsetS = best?.spot.onsetS ?? null;
    return {
      errorS: onsetS === null ? null : onsetS - source.onsetS,
      sigmaS: onsetS === null ? null : (best?.spot.onsetSigmaS ?? null),
      intervalS: 1 / rateHz,
    };
  });
}
