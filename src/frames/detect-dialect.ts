// frames: the lines of a text → what separates its fields and what marks its decimals.
import type { Lines } from "./find-lines.js";
import { createRowTable, type Dialect, scanRow } from "./scan-rows.js";

/** What may separate the fields of a text frame. */
export type Separator = "comma" | "semicolon" | "tab" | "space";
/** What may mark the decimals of a number. */
export type DecimalMark = "point" | "comma";

const SEPARATORS: Readonly<Record<Separator, number>> = { tab: 9, semicolon: 59, comma: 44, space: 32 };
const DECIMALS: Readonly<Record<DecimalMark, number>> = { point: 46, comma: 44 };
/** Lines looked at before the whole text is: enough to outnumber a header, too few to cost time. */
const SAMPLE_LINES = 24;

/** What was found, and whether another reading of the same text made as much sense. */
export interface DetectedDialect {
  readonly dialect: Dialect;
  readonly separator: Separator;
  readonly decimal: DecimalMark;
}

/** What is known of the text beforehand. */
export interface DialectOptions {
  readonly separator?: Separator | undefined;
  readonly decimal?: DecimalMark | undefined;
  /** Look at every line in place of a sample. */
  readonly everyLine?: boolean | undefined;
}

/** Find out how a text matrix is written.
 *  Rule: of all pairs of separator and decimal mark, the one that reads the most numbers out of lines that hold
 *  nothing but numbers; between equals a TAB goes before a semicolon, before a comma, before blanks, and a point
 *  before a decimal comma. So a comma with nothing else around it separates: `1,2,3` is three whole numbers.
 *  A sample of the lines decides unless `everyLine` is set; a reading that then fails is worth the second look.
 *  @param options.separator, options.decimal leave only the pairs that fit.
 */
export function detectDialect(
  bytes: Uint8Array,
  lines: Lines,
  options: DialectOptions = {},
): DetectedDialect {
  const step = options.everyLine ? 1 : Math.max(1, lines.starts.length / SAMPLE_LINES);
  const sample: number[] = [];
  for (let at = 0; at < lines.starts.length; at += step) sample.push(Math.floor(at));
  const candidates = listCandidates(bytes, lines, sample, options);
  return candidates.length === 1 ? candidates[0]! : bestOf(candidates, bytes, lines, sample);
}

function listCandidates(
  bytes: Uint8Array,
  lines: Lines,
  sample: readonly number[],
  options: DialectOptions,
): DetectedDialect[] {
  const isPresent = (code: number): boolean =>
    sample.some((i) => bytes.subarray(lines.starts[i]!, lines.ends[i]!).includes(code));
  const candidates: DetectedDialect[] = [];
  for (const separator of Object.keys(SEPARATORS) as Separator[]) {
    if (options.separator !== undefined && options.separator !== separator) continue;
    const code = SEPARATORS[separator];
    const possible = isPresent(code) || (separator === "space" && isPresent(SEPARATORS.tab));
    if (!possible && options.separator === undefined) continue;
    for (const decimal of Object.keys(DECIMALS) as DecimalMark[]) {
      if (options.decimal !== undefined && options.decimal !== decimal) continue;
      if (decimal === "comma" && options.decimal === undefined && !isPresent(DECIMALS.comma)) continue;
      if (decimal === "comma" && separator === "comma" && !lines.quoted) continue;
      candidates.push({ dialect: { separator: code, decimal: DECIMALS[decimal] }, separator, decimal });
    }
  }
  if (candidates.length > 0) return candidates;
  // A text of one column, or a forced pair that can't be told apart: read it so, and let the matrix be missed.
  const separator = options.separator ?? "space";
  const decimal = options.decimal ?? "point";
  return [{ dialect: { separator: SEPARATORS[separator], decimal: DECIMALS[decimal] }, separator, decimal }];
}

/** The first candidate of those with the highest score. */
function bestOf(
  candidates: readonly DetectedDialect[],
  bytes: Uint8Array,
  lines: Lines,
  sample: readonly number[],
): DetectedDialect {
  let best = candidates[0]!;
  let bestWhole = -1;
  let bestSome = -Infinity;
  for (const candidate of candidates) {
    let whole = 0;
    let some = 0;
    const table = createRowTable(0);
    for (const i of sample) scanRow(table, bytes, lines.starts[i]!, lines.ends[i]!, candidate.dialect);
    for (let k = 0; k < sample.length; k++) {
      const numerics = table.numerics[k]!;
      const texts = table.texts[k]!;
      if (numerics >= 2 && texts === 0) whole += numerics;
      if (numerics >= 2) some += numerics - texts;
    }
    // Only where no pair reads a single line whole do the lines count that hold some text.
    if (whole > bestWhole || (whole === 0 && bestWhole === 0 && some > bestSome)) {
      best = candidate;
      bestWhole = whole;
      bestSome = some;
    }
  }
  return best;
}
