// simulate: a text → a stream of random numbers that is the same on every machine.

/** A seeded stream of random numbers. */
export interface Random {
  /** Uniform in [0, 1). */
  next(): number;
  /** Uniform in [low, high). */
  uniform(low: number, high: number): number;
  /** Log-uniform in [low, high); both above 0. */
  logUniform(low: number, high: number): number;
  /** Normal with mean 0 and standard deviation 1. */
  normal(): number;
  /** Whole number in low … high, both included. */
  integer(low: number, high: number): number;
  /** True with the given probability. */
  chance(probability: number): boolean;
  /** One of the items. */
  pick<T>(items: readonly T[]): T;
  /** −1 or 1. */
  sign(): number;
}

/** Make a stream from a text: equal texts give equal streams, others have nothing in common.
 *  Method: sfc32, the small fast chaotic generator of C. Doty-Humphrey's PractRand (public domain algorithm),
 *  seeded by an FNV-1a hash of the text and 20 warming rounds; normal numbers by the polar method
 *  (Marsaglia & Bray 1964).
 */
export function makeRandom(text: string): Random {
  let a = hashText(text, 0x811c9dc5);
  let b = hashText(text, 0x01234567);
  let c = hashText(text, 0x89abcdef);
  let counter = 1;
  let spare = Number.NaN;

  const word = (): number => {
    const sum = (((a + b) | 0) + counter) | 0;
    counter = (counter + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + sum) | 0;
    return sum >>> 0;
  };
  for (let i = 0; i < 20; i++) word();

  const next = (): number => word() / 4294967296;
  const uniform = (low: number, high: number): number => low + (high - low) * next();
  const integer = (low: number, high: number): number => low + Math.floor(next() * (high - low + 1));
  return {
    next,
    uniform,
    integer,
    logUniform: (low, high) => Math.exp(uniform(Math.log(low), Math.log(high))),
    chance: (probability) => next() < probability,
    sign: () => (next() < 0.5 ? -1 : 1),
    pick: (items) => {
      const item = items[integer(0, items.length - 1)];
      if (item === undefined) throw new RangeError("pick needs at least one item");
      return item;
    },
    normal: () => {
      if (!Number.isNaN(spare)) {
        const value = spare;
        spare = Number.NaN;
        return value;
      }
      for (;;) {
        const u = 2 * next() - 1;
        const v = 2 * next() - 1;
        const s = u * u + v * v;
        if (s > 0 && s < 1) {
          const factor = Math.sqrt((-2 * Math.log(s)) / s);
          spare = v * factor;
          return u * factor;
        }
      }
    },
  };
}

function hashText(text: string, basis: number): number {
  let hash = basis;
  for (let i = 0; i < text.length; i++) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  hash = Math.imul(hash ^ (hash >>> 15), 0x2c1b3c6d);
  return (hash ^ (hash >>> 13)) | 0;
}
