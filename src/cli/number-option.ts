// cli: the word after an option → a number, or an error that says what was expected.
import { ToolError } from "../core/errors.js";

/** What a number must be. */
export interface NumberRule {
  /** With unit, such as "a rate in Hz". */
  readonly what: string;
  readonly above?: number;
  readonly atMost?: number;
  /** What is counted, 1 and up: 2.5 of it is a slip. */
  readonly whole?: boolean;
}

const NUMBER = /^[+-]?(?:\d+[.,]?\d*|[.,]\d+)(?:e[+-]?\d+)?$/i;
/** Thousands to some, decimals to others. */
const AMBIGUOUS = /^([+-]?[1-9]\d{0,2}),(\d{3})$/;

const WHOLE_FIX = "Give a whole number from 1 up";

/** Make a parser for a number option. A decimal comma is read as a point.
 *  @throws ToolError E_USAGE (from the parser) for words, for a comma that may part thousands, and for numbers outside
 *  the rule.
 */
export function numberOption(flag: string, rule: NumberRule): (word: string) => number {
  return (word) => {
    const expected = `${flag} needs ${rule.what}, found "${word}"`;
    const text = word.trim();
    const [, whole, rest] = AMBIGUOUS.exec(text) ?? [];
    if (whole !== undefined) {
      const fix = `Write ${whole}.${rest}, or ${whole}${rest} if the comma parts thousands`;
      throw new ToolError("E_USAGE", { problem: expected, fix });
    }
    if (!NUMBER.test(text)) {
      const fix = rule.whole === true ? WHOLE_FIX : "Write a number such as 0.5 or 12, without its unit";
      throw new ToolError("E_USAGE", { problem: expected, fix });
    }
    const value = Number(text.replace(",", "."));
    if (rule.whole === true && !(Number.isSafeInteger(value) && value >= 1))
      throw new ToolError("E_USAGE", { problem: expected, fix: WHOLE_FIX });
    const tooLow = rule.above !== undefined && !(value > rule.above);
    const tooHigh = rule.atMost !== undefined && value > rule.atMost;
    if (!Number.isFinite(value) || tooLow || tooHigh) {
      const bounds = [
        rule.above === undefined ? "" : `above ${rule.above}`,
        rule.atMost === undefined ? "" : `at most ${rule.atMost}`,
      ].filter((bound) => bound !== "");
      throw new ToolError("E_USAGE", {
        problem: expected,
        fix: `Give a number ${bounds.length === 0 ? "that is finite" : bounds.join(" and ")}`,
      });
    }
    return value;
  };
}
