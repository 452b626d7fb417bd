// suspects: what may be the case, and what a measurement would show → how many bits it is expected to settle.

/** Compute the doubt in a set of probabilities, bits: 0 where one is certain.
 *  @param probabilities not negative; need not sum to 1.
 */
export function entropyBits(probabilities: readonly number[]): number {
  const total = probabilities.reduce((a, b) => a + b, 0);
  let bits = 0;
  for (const weight of probabilities) {
    const p = weight / total;
    if (p > 0) bits -= p * Math.log2(p);
  }
  return bits;
}

/** Compute by how much a measurement is expected to lessen the doubt, bits: the entropy now, less the entropy after
 *  each outcome, weighted by how likely the outcome is (mutual information).
 *  Never negative, and never more than the doubt there is.
 *  Method: Lindley, "On a measure of the information provided by an experiment", Ann. Math. Statist. 27 (1956) 986
 *  (from memory).
 *  @param probabilities of what may be the case; need not sum to 1.
 *  @param outcomes for each of them a row: how likely each outcome is then; rows need not sum to 1.
 */
export function expectedGain(
  probabilities: readonly number[],
  outcomes: readonly (readonly number[])[],
): number {
  const total = probabilities.reduce((a, b) => a + b, 0);
  if (!(total > 0)) return 0;
  const rows = outcomes.map((row) => {
    const sum = row.reduce((a, b) => a + b, 0);
    return row.map((value) => (sum > 0 ? value / sum : 0));
  });
  const count = rows[0]?.length ?? 0;
  let bits = 0;
  for (let o = 0; o < count; o++) {
    let chance = 0;
    for (let h = 0; h < rows.length; h++) chance += (probabilities[h]! / total) * rows[h]![o]!;
    for (let h = 0; h < rows.length; h++) {
      const joint = (probabilities[h]! / total) * rows[h]![o]!;
      if (joint > 0) bits += joint * Math.log2(rows[h]![o]! / chance);
    }
  }
  return Math.max(0, bits);
}
