// evidence: a part taken to be at fault → the ways in which that can show: what heats, which net it pulls at, until
// when.
import { pulledNets } from "../readings/net-likelihood.js";
import type { EvidenceFigures } from "./evidence-defaults.js";

/** A named part of one of the job's boards. */
export interface JobPart {
  readonly key: string;
  readonly ref: string;
  readonly board: string;
  readonly side: "top" | "bottom";
  /** Without ground, in the form in which names are compared. */
  readonly nets: readonly string[];
  readonly normallyWarm: boolean;
}

/** Something that was done to the device; each one begins a new state of the board. */
export interface BoardChange {
  readonly seq: number;
  readonly did: string;
  /** Parts that it was done to; empty for the device at large. */
  readonly keys: readonly string[];
  /** Done to the board as a whole, so that it may cure any part: cleaning. */
  readonly everywhere: boolean;
}

/** One way in which a fault shows. */
export interface FaultMode {
  /** Probability of this way, given the fault. */
  readonly share: number;
  /** The part that heats, `UNNAMED`, or null if none does. */
  readonly source: string | null;
  /** It heats for another part's fault: once it is off nothing is seen. */
  readonly driven: boolean;
  /** Net that it pulls at; null: one that nobody read. */
  readonly net: string | null;
  /** It is at fault in states below this one; Infinity: it still is. */
  readonly curedFrom: number;
}

/** Whether a part is off the board in a state of it. */
export function isOff(key: string, state: number, changes: readonly BoardChange[]): boolean {
  let off = false;
  for (const { did, keys } of changes.slice(0, state)) {
    if (keys.includes(key) && did === "lifted") off = true;
    if (keys.includes(key) && did === "replaced") off = false;
  }
  return off;
}

/** List the ways in which a part at fault can show. Most often it heats itself; at times another part on the net that
 *  it pulls at does (`drivenShare`). Any of its nets is pulled at alike. What was done to it may have cured it, or not.
 *  @param readNets nets that were read, in the form in which names are compared: the others need not be told apart.
 *  @param heated parts that some attempt names as a source: driven heat in others would have been seen nowhere.
 */
export function faultModes(
  part: JobPart,
  parts: readonly JobPart[],
  readNets: ReadonlySet<string>,
  heated: ReadonlySet<string>,
  changes: readonly BoardChange[],
  o: EvidenceFigures,
): FaultMode[] {
  const nets = netShares(part.nets, readNets);
  const cures = cureShares(part.key, changes, o);
  const modes: FaultMode[] = [];
  const sharers = parts.filter(
    (other) => other !== part && other.nets.some((net) => part.nets.includes(net)),
  );
  const driven = sharers.length === 0 ? 0 : o.drivenShare;
  for (const [net, netShare] of nets) {
    for (const [curedFrom, cureShare] of cures) {
      const share = netShare * cureShare;
      modes.push({ share: share * (1 - driven), source: part.key, driven: false, net, curedFrom });
      for (const other of sharers) {
        if (!heated.has(other.key)) continue;
        // A part is driven by a net that both are on.
        const common = other.nets.filter((name) => part.nets.includes(name));
        const on = net === null ? common.some((name) => !readNets.has(name)) : common.includes(net);
        if (on)
          modes.push({
            share: (share * driven) / sharers.length,
            source: other.key,
            driven: true,
            net,
            curedFrom,
          });
      }
    }
  }
  return modes;
}

/** The ways of a fault at a place that no region names: it may pull at any net, and nothing that is done to parts cures
 *  it. */
export function unnamedModes(
  source: string | null,
  allNets: readonly string[],
  readNets: ReadonlySet<string>,
): FaultMode[] {
  return [...netShares(allNets, readNets)].map(([net, share]) => ({
    share,
    source,
    driven: false,
    net,
    curedFrom: Number.POSITIVE_INFINITY,
  }));
}

function netShares(nets: readonly string[], readNets: ReadonlySet<string>): Map<string | null, number> {
  const all = pulledNets(nets);
  const shares = new Map<string | null, number>();
  for (const net of all) {
    const name = readNets.has(net) ? net : null;
    shares.set(name, (shares.get(name) ?? 0) + 1 / all.length);
  }
  if (all.length === 0) shares.set(null, 1);
  return shares;
}

/** From which state on the part is cured, with the chance of it. */
function cureShares(key: string, changes: readonly BoardChange[], o: EvidenceFigures): [number, number][] {
  const shares: [number, number][] = [];
  let ill = 1;
  changes.forEach(({ did, keys, everywhere }, k) => {
    if (!keys.includes(key) && !everywhere) return;
    const cures = cureChance(did, o);
    if (cures === 0) return;
    shares.push([k + 1, ill * cures]);
    ill *= 1 - cures;
  });
  shares.push([Number.POSITIVE_INFINITY, ill]);
  return shares;
}

/** How often what was done to the part at fault cures it. */
export function cureChance(did: string, o: EvidenceFigures): number {
  switch (did) {
    case "replaced":
      return o.replacedCures;
    case "lifted":
      return o.liftedCures;
    case "reflowed":
      return o.reflowedCures;
    case "cleaned":
      return o.cleanedCures;
    default:
      return 0;
  }
}
