// numeric: table of costs → the cheapest pairing of rows and columns.

/** What `assignPairs` finds. */
export interface Assignment {
  /** Column of each row; −1 where a row has none. */
  readonly columnOfRow: Int32Array;
  readonly totalCost: number;
}

/** Pair rows with columns, each at most once, as many pairs as the shorter side has, at the least total cost.
 *  Taking the cheapest pair first is not that. Costs may be negative; Infinity forbids a pair. Of several best answers
 *  one is given, always the same one.
 *  Method: shortest augmenting paths with potentials (Kuhn 1955, Nav. Res. Logist. Q. 2:83; Jonker & Volgenant 1987,
 *  Computing 38:325; the second from memory), O(shorter²·longer).
 *  @param costs rows×columns, row-major, no NaN; not modified.
 *  @returns rows that can only be paired at infinite cost stay unpaired and add nothing to the total.
 *  @throws RangeError if the size does not fit or a cost is NaN or −Infinity (a fault of the caller).
 */
export function assignPairs(costs: Float64Array, rows: number, columns: number): Assignment {
  if (costs.length !== rows * columns)
    throw new RangeError(`${rows}×${columns} does not fit ${costs.length} costs`);
  const forbidden = costOfForbidden(costs);
  const turned = rows > columns;
  const short = turned ? columns : rows;
  const long = turned ? rows : columns;
  const cost = (s: number, l: number): number => {
    const value = turned ? costs[l * columns + s]! : costs[s * columns + l]!;
    return value === Number.POSITIVE_INFINITY ? forbidden : value;
  };
  const shortOfLong = pairAll(cost, short, long);
  const columnOfRow = new Int32Array(rows).fill(-1);
  let totalCost = 0;
  for (let l = 0; l < long; l++) {
    const s = shortOfLong[l]!;
    if (s < 0) continue;
    const row = turned ? l : s;
    const column = turned ? s : l;
    const value = costs[row * columns + column]!;
    if (value === Number.POSITIVE_INFINITY) continue;
    columnOfRow[row] = column;
    totalCost += value;
  }
  return { columnOfRow, totalCost };
}

/** A cost so large that every allowed pair is worth more than any saving elsewhere. */
function costOfForbidden(costs: Float64Array): number {
  let size = 1;
  for (const cost of costs) {
    if (Number.isNaN(cost) || cost === Number.NEGATIVE_INFINITY) throw new RangeError(`not a cost: ${cost}`);
    if (cost !== Number.POSITIVE_INFINITY) size += Math.abs(cost);
  }
  return 2 * size;
}

/** Pair every short-side index; gives the short-side index of each long-side one, −1 for none. */
function pairAll(cost: (s: number, l: number) => number, short: number, long: number): Int32Array {
  const shortOfLong = new Int32Array(long).fill(-1);
  const priceShort = new Float64Array(short);
  const priceLong = new Float64Array(long);
  const distance = new Float64Array(long);
  const from = new Int32Array(long);
  const done = new Uint8Array(long);
  for (let start = 0; start < short; start++) {
    distance.fill(Number.POSITIVE_INFINITY);
    from.fill(-1);
    done.fill(0);
    let s = start;
    let reached = -1;
    let walked = 0;
    // Grow the tree of cheapest ways until it meets a column without a partner.
    for (;;) {
      let next = -1;
      for (let l = 0; l < long; l++) {
        if (done[l] === 1) continue;
        const way = walked + cost(s, l) - priceShort[s]! - priceLong[l]!;
        if (way < distance[l]!) {
          distance[l] = way;
          from[l] = reached;
        }
        if (next < 0 || distance[l]! < distance[next]!) next = l;
      }
      walked = distance[next]!;
      done[next] = 1;
      reached = next;
      if (shortOfLong[next]! < 0) break;
      s = shortOfLong[next]!;
    }
    // Prices: every pair in the tree becomes free of reduced cost.
    priceShort[start] = priceShort[start]! + walked;
    for (let l = 0; l < long; l++) {
      if (done[l] === 0 || l === reached) continue;
      const left = walked - distance[l]!;
      priceLong[l] = priceLong[l]! - left;
      const partner = shortOfLong[l]!;
      priceShort[partner] = priceShort[partner]! + left;
    }
    // Hand the partners along the way back to the start.
    for (let l = reached; l >= 0; l = from[l]!)
      shortOfLong[l] = from[l]! < 0 ? start : shortOfLong[from[l]!]!;
  }
  return shortOfLong;
}
