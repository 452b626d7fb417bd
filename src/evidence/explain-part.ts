// evidence: a part and all that a job holds → what speaks for it and against it, in plain sentences.
import { boundsOf } from "../board/polygon.js";
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import { capitalised } from "../core/sentence-case.js";
import { sameName } from "../readings/classify-readings.js";
import { netLines } from "../readings/join-readings.js";
import { netLikelihood } from "../readings/net-likelihood.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { JobPart } from "./fault-modes.js";
import type { GatheredJob } from "./gather-job.js";
import type { SeenAttempt } from "./seen-attempt.js";
import { TRIED_SPEAKS, triedRatio } from "./tried-likelihood.js";

/** Sentences about a part. */
export interface PartReasons {
  readonly for: string[];
  readonly against: string[];
  /** Likelihood of the nets' last readings ÷ that for a part on none of them; null where none counts. */
  readingRatio: number | null;
}

/** A probability in an attempt from which on it speaks for a part. */
const SPEAKS = 0.1;
/** … and below which it speaks against it. */
const SILENT = 0.02;

/** Say what speaks for a part and against it: each attempt, what became of the heat after something was done to it, the
 *  places that stayed hot, and its nets.
 */
export function explainPart(part: JobPart, job: GatheredJob, o: EvidenceFigures): PartReasons {
  const reasons: PartReasons = { for: [], against: [], readingRatio: null };
  for (const attempt of job.attempts) {
    if (!attempt.placed || attempt.board !== part.board) continue;
    explainAttempt(part, attempt, job, reasons);
    const ratio = triedRatio(attempt, part.key, null, o);
    if (ratio < TRIED_SPEAKS) continue;
    if (attempt.likeliest.has(part.key)) {
      reasons.for.push(`${nameOf(attempt)} names it among the likeliest, since the board had power.`);
      continue;
    }
    reasons.for.push(
      `${nameOf(attempt)} does not name it, but heat there would explain more than it does in most cold parts (× ${formatSignificant(ratio, 2)} as likely).`,
    );
  }
  explainChanges(part, job, reasons);
  reasons.for.push(...sharedHeat(part, job));
  const nets = lastStates(job);
  if (!o.useReadings || nets.length === 0) return reasons;
  for (const line of netLines(part.nets, nets)) {
    const against = /^Against: (.+)$/.exec(line);
    if (against === null) reasons.for.push(line);
    else reasons.against.push(capitalised(against[1]!));
  }
  const odd = nets.filter(({ outcome }) => outcome !== "ordinary");
  if (odd.length > 0 && part.nets.length > 0 && !odd.some(({ net }) => part.nets.includes(sameName(net)))) {
    reasons.against.push(`It is on no net that reads low (${odd.map(({ net }) => net).join(", ")}).`);
  }
  if (part.nets.length === 0) return reasons;
  const ratio = netLikelihood(part.nets, nets, o) / netLikelihood([], nets, o);
  reasons.readingRatio = ratio;
  const line = `The nets read make it × ${formatSignificant(ratio, 2)} as likely as a part on none of them.`;
  if (ratio > 1) reasons.for.push(line);
  else if (ratio < 1) reasons.against.push(line);
  return reasons;
}

function explainAttempt(part: JobPart, attempt: SeenAttempt, job: GatheredJob, reasons: PartReasons): void {
  const name = nameOf(attempt);
  const done = doneTo(part.key, attempt.state, job);
  const chance = chanceIn(attempt, part.key);
  if (attempt.heat.length === 0) {
    if (done !== null) reasons.for.push(`${name} shows no heat of a fault, after it was ${done}.`);
    else if (attempt.limitsW.get(part.key) !== null) {
      reasons.against.push(`${name} shows no heat of a fault, though nothing had been done to it.`);
    }
    return;
  }
  if (chance >= SPEAKS) reasons.for.push(`${name} gives it ${formatProbability(chance)}.`);
  else if (chance < SILENT) {
    const first = firstOf(attempt, job);
    const where = first === null ? "elsewhere" : `in ${first.ref} (${formatProbability(first.probability)})`;
    reasons.against.push(`${name} shows heat ${where} instead.`);
  } else reasons.against.push(`${name} gives it no more than ${formatProbability(chance)}.`);
  if (attempt.warm.has(part.key)) reasons.against.push(`${name} shows it as warm as a healthy one.`);
  if (done !== null) {
    reasons.against.push(
      chance >= SPEAKS
        ? `It was ${done} before that, and its place is still hot.`
        : `It was ${done} before that, and there is still heat.`,
    );
  }
}

/** What the comparison of attempts says of its heat, where it is sure: heat that stays though its part was changed
 *  speaks against it, and so does heat that goes of itself.
 */
function explainChanges(part: JobPart, job: GatheredJob, reasons: PartReasons): void {
  for (const { before, after, comparison } of job.comparisons) {
    if (after.board !== part.board) continue;
    const told = comparison.parts.find(({ ref }) => ref === part.ref);
    if (told === undefined || told.change === "unsure" || told.normallyWarm) continue;
    const between = job.changes.slice(before.state, after.state).some(({ keys }) => keys.includes(part.key));
    const gone = told.change === "gone";
    const words = told.change === "new" ? "is new" : told.change === "gone" ? "is gone" : "is still there";
    const line = `From attempt ${before.number} to ${after.number} its heat ${words}. ${told.why}`;
    (between === gone ? reasons.for : reasons.against).push(line);
  }
}

/** Places that stayed hot after their part was changed speak for what shares a net with it or lies behind it. */
function sharedHeat(part: JobPart, job: GatheredJob): string[] {
  const lines: string[] = [];
  for (const other of job.parts) {
    if (other.key === part.key || other.board !== part.board) continue;
    const hot = job.attempts.find((attempt) => {
      const done = doneTo(other.key, attempt.state, job);
      return done !== null && chanceIn(attempt, other.key) >= SPEAKS;
    });
    if (hot === undefined) continue;
    const done = doneTo(other.key, hot.state, job)!;
    const net = other.nets.find((name) => part.nets.includes(name));
    const behind = other.side !== part.side && overlap(part, other, job);
    const how = behind
      ? `lies behind ${other.ref}`
      : net === undefined
        ? null
        : `shares ${net} with ${other.ref}`;
    if (how !== null) lines.push(`It ${how}, whose place was still hot after it was ${done}.`);
  }
  return lines;
}

/** Whether the rectangles around two parts overlap. */
function overlap(a: JobPart, b: JobPart, { maps }: GatheredJob): boolean {
  const bounds = ({ board, ref }: JobPart) =>
    boundsOf(maps.get(board)!.regions.find((region) => region.ref === ref)!.polygon);
  const [p, q] = [bounds(a), bounds(b)];
  return p.minX < q.maxX && q.minX < p.maxX && p.minY < q.maxY && q.minY < p.maxY;
}

/** The largest probability that an attempt's hotspots give a part. */
export function chanceIn({ heat }: SeenAttempt, key: string): number {
  return Math.max(0, ...heat.map(({ named }) => named.get(key) ?? 0));
}

/** The most probable source in an attempt alone. */
export function firstOf(
  attempt: SeenAttempt,
  { parts }: Pick<GatheredJob, "parts">,
): { ref: string; probability: number } | null {
  let best: { ref: string; probability: number } | null = null;
  for (const { key, ref } of parts) {
    const probability = chanceIn(attempt, key);
    if (probability > (best?.probability ?? 0)) best = { ref, probability };
  }
  return best;
}

/** The last thing that was done to a part before a state of the board; null if nothing was. */
export function doneTo(key: string, state: number, { changes }: Pick<GatheredJob, "changes">): string | null {
  const done = changes
    .slice(0, state)
    .filter(({ keys, did }) => keys.includes(key) && !/^(?:shield|boards)-/.test(did));
  const last = done.at(-1);
  return last === undefined ? null : last.did === "other" ? "changed" : last.did;
}

/** An attempt in words, at the beginning of a sentence. */
export function nameOf({ number, sides }: SeenAttempt): string {
  if (sides.length === 0) return `Attempt ${number}`;
  return `Attempt ${number} (${sides.length > 1 ? "both sides" : `${sides[0]} side`})`;
}

/** What each net read when it was read last. */
export function lastStates({ nets }: Pick<GatheredJob, "nets">): GatheredJob["nets"] {
  return nets.filter(
    (verdict) =>
      !nets.some(
        (other) => other.net === verdict.net && other.board === verdict.board && other.state > verdict.state,
      ),
  );
}
