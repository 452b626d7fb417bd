// readings: nets of a part and what nets read → how likely these readings are if that part is at fault.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import { isGround } from "../suspects/net-readings.js";
import { sameName } from "./classify-readings.js";
import type { NetOutcome, NetVerdict } from "./net-verdicts.js";

/** Defaults of `netLikelihood`: how often a net reads as it does if the fault pulls at it, and if not. Nobody has
 *  counted: the sums over short and low, 0.9 and 0.1, are those by which a reading is advised (`netReadings`), and a
 *  dead short is seldom there for nothing. A short on it makes a part 25 times, a low reading 5 times as likely as one
 *  on none of the nets read; an ordinary one 9 times less likely, if it has no other net. */
export const NET_DEFAULTS = Object.freeze({
  shortOn: 0.5,
  lowOn: 0.4,
  ordinaryOn: 0.1,
  shortOff: 0.02,
  lowOff: 0.08,
  ordinaryOff: 0.9,
});

/** Defaults with any of them replaced. */
export type NetOdds = OptionsOf<typeof NET_DEFAULTS>;

/** Compute how likely what the nets read is if a part is at fault. Its fault pulls at one of its nets, any of them
 *  alike; the others read as they do elsewhere. So a part with one net that reads low loses nothing by its other nets,
 *  and one with many nets little by one that reads as it should.
 *  @param nets of the part; ground is left out. For what has no net that is known: all nets there are.
 *  @param verdicts one a net.
 *  @returns a likelihood; only ratios of them mean something.
 */
export function netLikelihood(
  nets: readonly string[],
  verdicts: readonly Pick<NetVerdict, "net" | "outcome">[],
  options: NetOdds = {},
): number {
  const o: ResolvedOptions<typeof NET_DEFAULTS> = { ...NET_DEFAULTS, ...options };
  const offAll = verdicts.reduce((product, { outcome }) => product * chance(outcome, "Off", o), 1);
  const own = pulledNets(nets);
  if (own.length === 0) return offAll;
  let sum = 0;
  for (const net of own) {
    const verdict = verdicts.find((v) => sameName(v.net) === net);
    sum += verdict === undefined ? 1 : chance(verdict.outcome, "On", o) / chance(verdict.outcome, "Off", o);
  }
  return (offAll * sum) / own.length;
}

/** The nets that a fault can pull at, in the form in which names are compared. */
export function pulledNets(nets: readonly string[]): string[] {
  return [...new Set(nets.filter((net) => !isGround(net.trim())).map(sameName))];
}

function chance(outcome: NetOutcome, where: "On" | "Off", o: ResolvedOptions<typeof NET_DEFAULTS>): number {
  return o[`${outcome}${where}`];
}
