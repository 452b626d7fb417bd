// report: the heights where labels would like to stand → heights where none covers another.

/** Spread labels along one edge so that neighbours keep their distance and each stays as near as can be to its wish.
 *  Method: pool adjacent violators (Ayer et al. 1955, Ann. Math. Stat. 26, 641) on wish − rank × distance, which
 *  gives the least sum of squared moves; then held to the ends.
 *  @param wished wished centres, px, in any order.
 *  @param distancePx least distance between two centres.
 *  @param low,high ends for the centres. If they don't all fit, they are spread evenly, closer than asked for.
 *  @returns centres in the order of the input.
 */
export function spreadLabels(
  wished: readonly number[],
  distancePx: number,
  low: number,
  high: number,
): number[] {
  const count = wished.length;
  const fits = (count - 1) * distancePx <= high - low;
  const distance = fits ? distancePx : (high - low) / Math.max(1, count - 1);
  const order = wished.map((_, i) => i).sort((i, j) => wished[i]! - wished[j]! || i - j);
  const blocks: { sum: number; count: number }[] = [];
  order.forEach((index, rank) => {
    blocks.push({ sum: wished[index]! - rank * distance, count: 1 });
    while (blocks.length > 1 && mean(blocks.at(-2)!) >= mean(blocks.at(-1)!)) {
      const last = blocks.pop()!;
      const before = blocks.at(-1)!;
      before.sum += last.sum;
      before.count += last.count;
    }
  });
  const placed = new Array<number>(count);
  let rank = 0;
  for (const block of blocks) {
    const base = Math.min(high - (count - 1) * distance, Math.max(low, mean(block)));
    for (let i = 0; i < block.count; i++, rank++) placed[order[rank]!] = base + rank * distance;
  }
  return placed;
}

function mean(block: { sum: number; count: number }): number {
  return block.sum / block.count;
}
