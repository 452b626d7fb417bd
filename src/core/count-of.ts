// core: a number of things and what one of them is called → both in words.

/** Say how many: `1 pixel`, `3 pixels`.
 *  @param one name of a single one, whose plural ends in s.
 */
export function countOf(count: number, one: string): string {
  return `${count} ${one}${count === 1 ? "" : "s"}`;
}
