// frames: the bytes of lines → the numbers in them, by the compiled kernel, as far as they are plainly written.
import { sharedKernels } from "../numeric/kernels.js";
import type { Lines } from "./find-lines.js";
import { type Dialect, HAS_DECIMALS, POWERS_OF_TEN, type RowTable } from "./scan-rows.js";

/** Adds lines to a table, from one on, until one is not all plain numbers. If that is the whole text, the table's
 *  values lie in the memory of the kernels, and are good until these are used for something else.
 *  @returns the line that was not added: the one after the last, if all were. */
export type PlainScanner = (table: RowTable, first: number) => number;

/** A longer text would leave the kernels with more memory than anything else needs. */
const MOST_BYTES = 4 * 1024 * 1024;
const SPACE = 32;
const LF = 10;

/** Make the scanner of a text; it adds what `scanRow` would, to the last bit.
 *  @returns null where there are no kernels, blanks separate, or the text is long.
 */
export function openPlainScanner(text: Uint8Array, lines: Lines, dialect: Dialect): PlainScanner | null {
  const { separator, decimal } = dialect;
  if (separator === SPACE || text.length > MOST_BYTES) return null;
  const kernels = sharedKernels();
  if (kernels === null) return null;
  const count = lines.starts.length;
  const at = kernels.take(text.length + 1);
  const [starts, ends] = [
    kernels.put(Int32Array.from(lines.starts)),
    kernels.put(Int32Array.from(lines.ends)),
  ];
  const [powers, counts] = [kernels.put(POWERS_OF_TEN), kernels.take(4 * count)];
  const values = kernels.take(8 * ((text.length >> 1) + 1));
  const bytes = kernels.bytes(at, text.length + 1);
  bytes.set(text);
  bytes[text.length] = LF;
  const mark = decimal === separator ? -1 : decimal;
  return (table, first) => {
    const done = kernels.run.scanRows(
      at,
      starts + 4 * first,
      ends + 4 * first,
      count - first,
      separator,
      mark,
      powers,
      values,
      counts,
    );
    let used = table.used;
    for (const signed of kernels.integers(counts, done)) {
      const fields = Math.abs(signed);
      table.starts.push(used);
      table.counts.push(fields);
      table.numerics.push(fields);
      table.texts.push(0);
      table.textColumns.push(-1);
      table.flags.push(signed < 0 ? HAS_DECIMALS : 0);
      used += fields;
    }
    const found = kernels.doubles(values, used - table.used);
    if (done === count) {
      // The whole text: its numbers are left where they are.
      table.values = found;
    } else {
      if (used > table.values.length) {
        const grown = new Float64Array(Math.max(used, 2 * table.values.length));
        grown.set(table.values.subarray(0, table.used));
        table.values = grown;
      }
      table.values.set(found, table.used);
    }
    table.used = used;
    return first + done;
  };
}
