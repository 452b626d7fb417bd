// cli: a word → whether it can be the number of an attempt.

/** True for a whole number from 1 up, without sign or noughts before it. */
export function isAttemptNumber(word: string): boolean {
  return /^[1-9]\d*$/.test(word);
}
