// core: a word and the words there are → the one that was probably meant.

/** Find the word of a list that was probably meant: the same but for case and signs, or one or two letters off.
 *  Distance: Levenshtein 1966, with exchanged neighbours as one step (Damerau 1964).
 *  @returns null if none is near. */
export function nearestWord(word: string, words: readonly string[]): string | null {
  const plain = (text: string) => text.toLowerCase().replace(/[^a-z0-9]/g, "");
  let best: string | null = null;
  // One slip in a short word, two in a long one.
  let least = plain(word).length <= 4 ? 2 : 3;
  for (const candidate of words) {
    // As many steps as the lengths differ are needed at least; a key may be a million letters long.
    if (Math.abs(plain(word).length - plain(candidate).length) >= least) continue;
    const steps = editSteps(plain(word), plain(candidate));
    if (steps < least) {
      least = steps;
      best = candidate;
    }
  }
  return best;
}

function editSteps(a: string, b: string): number {
  let beforeLast: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let steps = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        steps = Math.min(steps, beforeLast[j - 2]! + 1);
      }
      row.push(steps);
    }
    beforeLast = last;
    last = row;
  }
  return last[b.length]!;
}
