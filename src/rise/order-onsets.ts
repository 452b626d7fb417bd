// rise: onsets of several hotspots → how surely each began before, or after, the others.

/** An onset and its own error, without what all onsets of a burst share. */
export interface OwnOnset {
  readonly onsetS: number;
  readonly sigmaS: number;
}

/** Tell how surely each hotspot began before all others.
 *  @param onsets null where one is not known.
 *  @returns for each the least of (other − own) ÷ the error of that difference over the others, in sigma: above 0 it
 *  was the first, below 0 another one was before it. Null where its own or every other onset is unknown.
 */
export function orderOnsets(onsets: readonly (OwnOnset | null)[]): (number | null)[] {
  return onsets.map((own, k) => {
    if (own === null) return null;
    let lead: number | null = null;
    onsets.forEach((other, n) => {
      if (n === k || other === null) return;
      const sigma = Math.hypot(own.sigmaS, other.sigmaS);
      const z = (other.onsetS - own.onsetS) / Math.max(sigma, 1e-9);
      if (lead === null || z < lead) lead = z;
    });
    return lead;
  });
}
