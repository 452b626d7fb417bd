// numeric: mask → numbered connected components.

/** What `labelComponents` finds. */
export interface Components {
  /** 0 where the mask is 0, else 1…count; numbered by their first pixel in reading order. */
  readonly labels: Int32Array;
  readonly count: number;
}

/** Number the connected components of a mask.
 *  Method: two passes with a union-find over the labels of the first (Rosenfeld & Pfaltz 1966,
 *  doi 10.1145/321356.321357; DOI from memory). The smaller label always becomes the root, so the roots keep reading
 *  order.
 *  @param mask row-major; anything but 0 belongs; not modified.
 *  @param connectivity 4: neighbours share a side; 8: or a corner.
 *  @throws RangeError if the size does not fit (a fault of the caller).
 */
export function labelComponents(
  mask: Uint8Array,
  width: number,
  height: number,
  connectivity: 4 | 8,
): Components {
  if (mask.length !== width * height)
    throw new RangeError(`${width}×${height} does not fit ${mask.length} pixels`);
  const labels = new Int32Array(mask.length);
  // Provisional labels start at 1; parent[label] <= label.
  const parent = new Int32Array((mask.length >> 1) + 2);
  let next = 1;
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      if (mask[i] === 0) continue;
      let label = x > 0 ? labels[i - 1]! : 0;
      if (y > 0) {
        label = join(parent, label, labels[i - width]!);
        if (connectivity === 8) {
          if (x > 0) label = join(parent, label, labels[i - width - 1]!);
          if (x + 1 < width) label = join(parent, label, labels[i - width + 1]!);
        }
      }
      if (label === 0) {
        label = next++;
        parent[label] = label;
      }
      labels[i] = label;
    }
  }
  // parent is turned into final numbers in place: a root comes before all that hang on it.
  let count = 0;
  for (let label = 1; label < next; label++) {
    parent[label] = parent[label] === label ? ++count : parent[parent[label]!]!;
  }
  for (let i = 0; i < labels.length; i++) labels[i] = parent[labels[i]!]!;
  return { labels, count };
}

/** Unite two labels, 0 meaning none; give the smaller root. */
function join(parent: Int32Array, a: number, b: number): number {
  if (b === 0) return a;
  const rootB = find(parent, b);
  if (a === 0) return rootB;
  const rootA = find(parent, a);
  if (rootA < rootB) {
    parent[rootB] = rootA;
    return rootA;
  }
  parent[rootA] = rootB;
  return rootB;
}

function find(parent: Int32Array, label: number): number {
  let root = label;
  while (parent[root] !== root) root = parent[root]!;
  // Shorten the way for the next search.
  for (let at = label; parent[at] !== root; ) {
    const up = parent[at]!;
    parent[at] = root;
    at = up;
  }
  return root;
}
