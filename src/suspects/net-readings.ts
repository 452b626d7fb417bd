// suspects: parts with their nets → the readings that could part them, each with what it would show.
import type { Hypothesis, OpenQuestion } from "./open-question.js";

/** A reading of one net to ground, with the supply off and nothing lifted. */
export interface NetReading {
  readonly net: string;
  /** For each hypothesis: how likely the reading is out of the ordinary, and how likely it is not. */
  readonly outcomes: readonly (readonly [number, number])[];
}

/** Chance that a reading at a part, or on its net, is out of the ordinary if that part is at fault, and if another one
 *  is. A judgement: nothing counts how often a part that heats pulls its net; the two only rank advice. */
export const READING = [0.9, 0.1] as const;
/** Of what has no net, or none that the map tells, nothing can be foretold. */
const UNKNOWN = 0.5;
/** Names of the net that readings are taken against (common practice, no source). */
const GROUND = /^(?:[ADPS]?GND\w*|VSS\w*|GROUND|EARTH|0V|CHASSIS)$/i;

/** Say whether a net is the one that readings are taken against. */
export function isGround(net: string): boolean {
  return GROUND.test(net);
}

/** List the nets of the parts in question, each with what its reading would tell. A net that all are on tells little,
 *  and one that only some are on parts those from the others.
 */
export function netReadings({ hypotheses }: OpenQuestion): NetReading[] {
  const nets = new Set(hypotheses.flatMap((h) => h.nets).filter((net) => !isGround(net)));
  return [...nets].map((net) => ({
    net,
    outcomes: hypotheses.map((h) => {
      const odd = h.nets.length === 0 ? UNKNOWN : h.nets.includes(net) ? READING[0] : READING[1];
      return [odd, 1 - odd] as const;
    }),
  }));
}

/** Advise a reading, with the parts that it sets apart. */
export function sayReading({ hypotheses }: OpenQuestion, net: string): string {
  const named = hypotheses
    .filter((h) => h.kind === "part" && h.nets.length > 0)
    .sort((a, b) => b.probability - a.probability);
  const on = named.find((h) => h.nets.includes(net));
  const off = named.find((h) => !h.nets.includes(net));
  const lead = `With the supply off, read ${net} to ground and compare with a good board`;
  if (on !== undefined && off !== undefined) {
    return `${lead}: ${on.ref} is on that net and ${off.ref} is not.`;
  }
  return `${lead}: a reading out of the ordinary speaks for ${on?.ref ?? "the parts on it"}, an ordinary one against.`;
}

/** Nets that two parts are both on, ground left out. */
export function sharedNets(a: Pick<Hypothesis, "nets">, b: Pick<Hypothesis, "nets">): string[] {
  return a.nets.filter((net) => !isGround(net) && b.nets.includes(net));
}
