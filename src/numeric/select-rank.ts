// numeric: numbers and a rank → the number of that rank, brought to its place.

/** Bring the number of rank `rank` (from 0) to its place: smaller ones before it, larger ones after it.
 *  Method: Floyd & Rivest 1975, Algorithm 489, Comm. ACM 18:173 (citation from memory): the pivot comes from a
 *  sample around the wanted rank, chosen by position and not by chance, so the result is always the same.
 */
export function select(work: Float64Array, count: number, rank: number): number {
  narrow(work, 0, count - 1, rank);
  return work[rank]!;
}

function narrow(work: Float64Array, from: number, to: number, rank: number): void {
  let left = from;
  let right = to;
  while (right > left) {
    // Above 600 numbers a first guess from a sample saves more than it costs.
    if (right - left > 600) {
      const n = right - left + 1;
      const i = rank - left + 1;
      const logN = Math.log(n);
      const sample = 0.5 * Math.exp((2 * logN) / 3);
      const spread = 0.5 * Math.sqrt((logN * sample * (n - sample)) / n) * Math.sign(i - n / 2);
      narrow(
        work,
        Math.max(left, Math.floor(rank - (i * sample) / n + spread)),
        Math.min(right, Math.floor(rank + ((n - i) * sample) / n + spread)),
        rank,
      );
    }
    const pivot = work[rank]!;
    let i = left;
    let j = right;
    work[rank] = work[left]!;
    work[left] = pivot;
    if (work[right]! > pivot) {
      work[left] = work[right]!;
      work[right] = pivot;
    }
    while (i < j) {
      const swap = work[i]!;
      work[i++] = work[j]!;
      work[j--] = swap;
      while (work[i]! < pivot) i++;
      while (work[j]! > pivot) j--;
    }
    if (work[left] === pivot) {
      const swap = work[left]!;
      work[left] = work[j]!;
      work[j] = swap;
    } else {
      j++;
      const swap = work[right]!;
      work[right] = work[j]!;
      work[j] = swap;
    }
    if (j <= rank) left = j + 1;
    if (rank <= j) right = j - 1;
  }
}
