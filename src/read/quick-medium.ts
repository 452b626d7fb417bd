// read: name of a file → its bytes, or whether it is there.
import { statSync } from "node:fs";
import { stat } from "node:fs/promises";
import { type LongJudge, readGiven, readGivenAtOnce } from "./read-given.js";

/** What takes longer than this to come lies on a slow medium: a share in a network, a disk that has to turn. */
const SLOW_NS = 10_000_000n;
/** So many in a row, and it was not this process that had to wait for its turn. */
const SLOW_IN_A_ROW = 3;

let slowInARow = 0;

/** Read a file. Handing a file to another thread and hearing of it costs three times what a quick medium takes to read
 *  it, so files are read at once, until some were long in coming: from then on several are waited for at a time.
 *  @throws what `readGiven` does.
 */
export async function readBytes(path: string, judge?: LongJudge): Promise<Buffer> {
  const atOnce = isSlow() ? null : timed(() => readGivenAtOnce(path, judge));
  return atOnce ?? readGiven(path, Number.POSITIVE_INFINITY, judge);
}

/** Tell whether there is a file of that name, in the same way. */
export async function isFile(path: string): Promise<boolean> {
  if (isSlow()) {
    return stat(path).then(
      (found) => found.isFile(),
      () => false,
    );
  }
  try {
    return timed(() => statSync(path, { throwIfNoEntry: false }))?.isFile() ?? false;
  } catch {
    return false;
  }
}

function isSlow(): boolean {
  return slowInARow >= SLOW_IN_A_ROW;
}

function timed<T>(work: () => T): T {
  const start = process.hrtime.bigint();
  const result = work();
  slowInARow = process.hrtime.bigint() - start > SLOW_NS ? slowInARow + 1 : 0;
  return result;
}
