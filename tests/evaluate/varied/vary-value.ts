// evaluate: a constant's value and its rule → the two values that it is changed to.

/** How a constant is changed.
 *  size: halved and doubled. chance: its odds are, so that a share or a chance stays between 0 and 1, and one that is
 *  small is halved and doubled all but itself. odds: natural logarithms of odds, which are halved and doubled: ln 2 off
 *  and on. count: halved, rounded up, and doubled. */
export type Rule = "size" | "chance" | "odds" | "count";

const CHANGES: Readonly<Record<Rule, (value: number, times: number) => number>> = Object.freeze({
  size: (value, times) => value * times,
  chance: (value, times) => (times * value) / (1 - value + times * value),
  odds: (value, times) => value + Math.log(times),
  count: (value, times) => Math.ceil(value * times),
});

/** Change a value down and up; entries of a list change together.
 *  @throws Error where a rule changes nothing, or is none for the value.
 */
export function varyValue(values: readonly number[], rule: Rule): [down: number[], up: number[]] {
  if (rule === "chance" && !values.every((value) => value > 0 && value < 1))
    throw new Error(`${values.join(", ")}: no chance lies outside 0 to 1`);
  const changed = (times: number): number[] =>
    values.map((value) => Number(CHANGES[rule](value, times).toPrecision(3)));
  const both: [number[], number[]] = [changed(0.5), changed(2)];
  if (both.some((some) => some.every((value, k) => value === values[k])))
    throw new Error(`${values.join(", ")}: nothing changes by the rule "${rule}"`);
  return both;
}
