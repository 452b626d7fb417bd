// suspects: when a part and the others began to warm → a line for or against it.
import { formatQuantity, formatSignificant } from "../core/format-quantity.js";

/** What is known of onsets; all of it may be missing. */
export interface OnsetEvidence {
  /** When it began to warm, and when the first other part did, s from power-on. */
  readonly onsetS?: number | null;
  readonly othersOnsetS?: number | null;
  /** Standard uncertainty of its own onset, s. */
  readonly onsetSigmaS?: number | null;
  /** How surely it was before all others (above 0) or after one of them (below 0), sigma; not known: by the times
   *  alone. */
  readonly onsetLeadSigma?: number | null;
}

/** One onset is before another if noise would reverse them once in 40 times at most. */
const SURE_LEAD = 2;

/** Say that a part began to warm first, or when, if no order is sure; null without an onset, or if it was late. */
export function onsetFirst(e: OnsetEvidence): string | null {
  const { onsetS, othersOnsetS } = e;
  if (onsetS === undefined || onsetS === null) return null;
  const began = `${onsetText(e)} after power-on`;
  if (othersOnsetS === undefined || othersOnsetS === null) return `It began to warm ${began}.`;
  const lead = onsetLead(e);
  if (lead <= -SURE_LEAD) return null;
  if (lead < SURE_LEAD) return `It began to warm ${began}; no other part was surely before it.`;
  return `It heated first: it began to warm ${began}, before the next part (${formatSignificant(othersOnsetS, 2)} s).`;
}

/** Say that another part surely began to warm before; null if none did. */
export function onsetLate(e: OnsetEvidence): string | null {
  const { onsetS, othersOnsetS } = e;
  if (typeof onsetS !== "number" || typeof othersOnsetS !== "number" || onsetLead(e) > -SURE_LEAD)
    return null;
  return `Against: it began to warm ${onsetText(e)} after power-on, another part before it (${formatSignificant(othersOnsetS, 2)} s).`;
}

function onsetText({ onsetS, onsetSigmaS }: OnsetEvidence): string {
  const known = typeof onsetSigmaS === "number" && onsetSigmaS > 0;
  return known
    ? formatQuantity(onsetS ?? null, onsetSigmaS, "s").text
    : `${formatSignificant(onsetS ?? 0, 2)} s`;
}

/** Where nothing is known of the errors the times decide alone; equal ones decide nothing. */
function onsetLead({ onsetS, othersOnsetS, onsetLeadSigma }: OnsetEvidence): number {
  if (typeof onsetLeadSigma === "number") return onsetLeadSigma;
  const difference = (othersOnsetS ?? 0) - (onsetS ?? 0);
  return difference === 0 ? 0 : difference * Number.POSITIVE_INFINITY;
}
