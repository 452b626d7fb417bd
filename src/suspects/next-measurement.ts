// suspects: what is open about a hotspot → the one capture or reading that is expected to settle most.
import { CAPTURES } from "./captures.js";
import { expectedGain } from "./expected-gain.js";
import { netReadings, sayReading } from "./net-readings.js";
import type { Hypothesis, OpenQuestion } from "./open-question.js";

/** A measurement that is advised. */
export interface Advice {
  /** One sentence with its reason. */
  readonly sentence: string;
  /** Doubt that it is expected to take away, bits; null where that is not what it is for. */
  readonly gainBits: number | null;
  /** The part of the sentence that is about a change which no part of the map is there for; absent where none is. */
  readonly unmapped?: string;
}

/** Measurements that settle about as much are ordered by how much trouble they are. */
const ABOUT_BITS = 0.02;
/** What settles less is not worth doing. */
const LEAST_BITS = 0.02;
/** A reading with the supply off is the least trouble. */
const READING_COST = 1;

/** Choose the measurement with the largest expected loss of doubt over the suspects and the rest.
 *  Each capture says how often two hypotheses would still pass for each other (`CAPTURES`), each reading how likely it
 *  is out of the ordinary (`netReadings`); from that follows what each outcome would leave open.
 *  @param isRead whether a net has been read already, so that it need not be read again.
 *  @returns null where nothing is expected to settle anything.
 */
export function chooseMeasurement(
  q: OpenQuestion,
  isRead: (net: string) => boolean = () => false,
): Advice | null {
  const probabilities = q.hypotheses.map((h) => h.probability);
  const options: { gainBits: number; cost: number; say: () => string }[] = [];
  for (const capture of CAPTURES) {
    if (!capture.possible(q)) continue;
    const alike = (a: Hypothesis, b: Hypothesis) => (a === b ? 1 : capture.alike(q, a, b));
    const outcomes = q.hypotheses.map((a) => q.hypotheses.map((b) => alike(a, b)));
    options.push({
      gainBits: expectedGain(probabilities, outcomes),
      cost: capture.cost,
      say: () => {
        const [a, b] = bestParted(q, alike);
        return capture.say(q, a, b);
      },
    });
  }
  for (const { net, outcomes } of netReadings(q)) {
    if (isRead(net)) continue;
    options.push({
      gainBits: expectedGain(probabilities, outcomes),
      cost: READING_COST,
      say: () => sayReading(q, net),
    });
  }
  const most = Math.max(0, ...options.map(({ gainBits }) => gainBits));
  if (most < LEAST_BITS || !q.hypotheses.some((h) => h.kind === "part")) return null;
  const [best] = options
    .filter(({ gainBits }) => gainBits >= most - ABOUT_BITS)
    .sort((a, b) => a.cost - b.cost || b.gainBits - a.gainBits);
  return { sentence: best!.say(), gainBits: best!.gainBits };
}

/** The part and the other hypothesis whose parting weighs most. */
function bestParted(
  { hypotheses }: OpenQuestion,
  alike: (a: Hypothesis, b: Hypothesis) => number,
): [Hypothesis, Hypothesis] {
  let best: [Hypothesis, Hypothesis] | null = null;
  let most = -1;
  for (const a of hypotheses) {
    if (a.kind !== "part") continue;
    for (const b of hypotheses) {
      if (a === b || (b.kind === "part" && b.probability > a.probability)) continue;
      const weight = a.probability * b.probability * (1 - alike(a, b));
      if (weight > most) {
        most = weight;
        best = [a, b];
      }
    }
  }
  return best!;
}
