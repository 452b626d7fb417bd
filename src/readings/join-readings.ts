// readings: suspects by their heat and what nets read → the same suspects with the readings counted, and why.
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import { type JudgedReading, sameName } from "./classify-readings.js";
import { NET_DEFAULTS, type NetOdds, netLikelihood, pulledNets } from "./net-likelihood.js";
import { type NetVerdict, netVerdicts } from "./net-verdicts.js";

/** A part with its probability by heat alone. */
export interface HeatSuspect {
  readonly ref: string;
  readonly probability: number;
  /** By the map; empty where it does not tell. */
  readonly nets: readonly string[];
}

/** A part with the readings counted. */
export interface JoinedSuspect {
  readonly ref: string;
  readonly before: number;
  readonly probability: number;
  /** How many times as likely the readings are if this part is at fault as if one is on none of the nets that were
   *  read. */
  readonly ratio: number;
  readonly why: readonly string[];
}

/** Heat and readings joined. */
export interface JoinedReadings {
  /** In the order given. */
  readonly parts: readonly JoinedSuspect[];
  /** None of the named parts. */
  readonly unexplained: number;
  readonly unexplainedRatio: number;
  /** The nets that counted. */
  readonly nets: readonly NetVerdict[];
  /** The chances that were used; null where readings were switched off. */
  readonly odds: Required<NetOdds> | null;
}

/** Join heat with readings by Bayes' rule through the nets of the regions: parts on a net that reads short or low gain,
 *  parts on none lose, parts whose nets read as they should lose too (`netLikelihood`).
 *  Of each net the last state of the board in which it was read counts.
 *  @param unexplained probability that the source is none of the parts; with the parts it sums to 1 (else all are
 *  scaled so that their sum stays what it was).
 *  @param options.use false: probabilities stay as they are.
 */
export function joinReadings(
  suspects: readonly HeatSuspect[],
  unexplained: number,
  judged: readonly JudgedReading[],
  options: NetOdds & { readonly use?: boolean } = {},
): JoinedReadings {
  const { use = true, ...odds } = options;
  const known = new Set(suspects.flatMap(({ nets }) => pulledNets(nets)));
  const nets = use ? lastStates(netVerdicts(judged)).filter(({ net }) => known.has(sameName(net))) : [];
  const everywhere = [...known];
  const offAll = netLikelihood([], nets, odds);
  const ratioOf = (own: readonly string[]) =>
    netLikelihood(pulledNets(own).length === 0 ? everywhere : own, nets, odds) / offAll;
  const ratios = suspects.map((suspect) => ratioOf(suspect.nets));
  const unexplainedRatio = ratioOf([]);
  const sum = suspects.reduce((all, { probability }) => all + probability, unexplained);
  const weighed = suspects.reduce(
    (all, { probability }, k) => all + probability * ratios[k]!,
    unexplained * unexplainedRatio,
  );
  const scale = weighed > 0 ? sum / weighed : 1;
  return {
    parts: suspects.map(({ ref, probability: before, nets: own }, k) => {
      const probability = before * ratios[k]! * scale;
      return {
        ref,
        before,
        probability,
        ratio: ratios[k]!,
        why: whyOf(own, nets, ratios[k]!, before, probability),
      };
    }),
    unexplained: unexplained * unexplainedRatio * scale,
    unexplainedRatio,
    nets,
    odds: use ? { ...NET_DEFAULTS, ...odds } : null,
  };
}

function lastStates(verdicts: readonly NetVerdict[]): NetVerdict[] {
  const last = new Map<string, NetVerdict>();
  for (const verdict of verdicts) {
    const key = sameName(verdict.net);
    const before = last.get(key);
    if (before === undefined || verdict.state >= before.state) last.set(key, verdict);
  }
  return [...last.values()];
}

function whyOf(
  own: readonly string[],
  nets: readonly NetVerdict[],
  ratio: number,
  before: number,
  probability: number,
): string[] {
  if (nets.length === 0) return [];
  const pulled = pulledNets(own);
  const lines = netLines(pulled, nets);
  const odd = nets.filter(({ outcome }) => outcome !== "ordinary").map(({ net }) => net);
  if (pulled.length === 0) lines.push("The map names no net of it, so that readings tell little.");
  else if (odd.length > 0 && !odd.some((net) => pulled.includes(sameName(net)))) {
    lines.push(`Against: it is on no net that reads low (${odd.join(", ")}).`);
  }
  if (lines.length > 0) {
    lines.push(
      `Readings: × ${formatSignificant(ratio, 2)} against a part on none of the nets read; ${formatProbability(before)} becomes ${formatProbability(probability)}.`,
    );
  }
  return lines;
}

/** Say what the nets of a part read, those that speak for it first.
 *  @param pulled nets of the part as `pulledNets` gives them.
 */
export function netLines(pulled: readonly string[], nets: readonly NetVerdict[]): string[] {
  const on = nets.filter(({ net }) => pulled.includes(sameName(net)));
  const odd = on.filter(({ outcome }) => outcome !== "ordinary");
  const ordinary = on.filter(({ outcome }) => outcome === "ordinary");
  return [
    ...odd.map(({ net, outcome, text }) => `It is on ${net}, which reads ${outcome} (${text}).`),
    ...ordinary.map(({ net, text }) => `Against: it is on ${net}, which reads as it should (${text}).`),
  ];
}
