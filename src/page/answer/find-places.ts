// page: a threshold → the places that would count at it, found in a worker with the engine's own code.
import type { PlacesInput } from "./places-input.js";

declare const WORKERS: Readonly<Record<string, string>>;

/** A place that reaches the threshold. */
export interface FoundPlace {
  readonly peakPx: readonly [number, number];
  readonly riseK: number;
  readonly significance: number;
}

let worker: Worker | null = null;
let lastAsked = 0;
let sent: Float32Array | null = null;

/** Find the places; of requests that follow each other quickly only the last is answered.
 *  @param done called once, unless the request was given up.
 *  @returns gives it up.
 */
export function findPlaces(input: PlacesInput, done: (places: readonly FoundPlace[]) => void): () => void {
  worker ??= new Worker(WORKERS["places-worker"] ?? "", { type: "module" });
  const mine = worker;
  const id = ++lastAsked;
  const take = ({ data }: MessageEvent<{ id: number; places: FoundPlace[] }>): void => {
    if (data.id !== id) return;
    mine.removeEventListener("message", take);
    done(data.places);
  };
  mine.addEventListener("message", take);
  // The rasters go over once; after that the threshold alone does.
  const { significance, rise, ...words } = input;
  const isKnown = sent === significance;
  sent = significance;
  mine.postMessage({ id, ...words, ...(isKnown ? {} : { significance, rise }) });
  return () => mine.removeEventListener("message", take);
}
