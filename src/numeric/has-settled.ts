// numeric: the length of an iteration's step → whether its steps have died out.

/** At the last round steps may still be so many times as long as those that are called settled, which are a tenth of
 *  what matters: 0.002 px of alignments that are right to 0.02, 0.03 px of views that are right to 0.3. */
const NEARLY_SETTLED = 10;

/** Whether an iteration may end: steps that have become short without dying out change nothing that matters any more at
 *  its last round.
 *  @param length of the step, @param settled below which it has died out: one unit for both.
 */
export function hasSettled(length: number, settled: number, isLastRound: boolean): boolean {
  return length < (isLastRound ? NEARLY_SETTLED : 1) * settled;
}
