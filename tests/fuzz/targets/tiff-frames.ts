// fuzz: grey pictures as TIFF of both byte orders, whole, with bytes changed, and with the words of their directory
// changed.
import { decodeTiff } from "../../../src/read/decode-tiff.js";
import { sniffFileType } from "../../../src/read/sniff-file-type.js";
import type { Random } from "../../simulate/random.js";
import { buildTiff, type TiffPage } from "../../unit/read/build-tiff.js";
import { type FuzzTarget, otherReader } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";

/** Tags of TIFF 6.0, section 8 and its extensions, that say where samples are and how many. */
const TAGS = [
  254, 256, 257, 258, 259, 262, 266, 273, 274, 277, 278, 279, 284, 317, 320, 322, 323, 324, 325, 330, 338,
  339, 34377,
];
const NUMBERS = [
  0, 1, 2, 3, 5, 7, 8, 16, 32, 64, 255, 4096, 8192, 32773, 32946, 65535, 65536, 0x7fffffff, 0xffffffff,
];

/** Frames as TIFF. */
export const tiffFrames: FuzzTarget = {
  name: "tiff",
  make: (random) => {
    const pages = makePages(random);
    const little = random.chance(0.5);
    const bytes = buildTiff(pages, little);
    const turn = random.integer(0, 3);
    if (turn === 0) {
      return {
        what: `a whole file, ${little ? "little" : "big"} end first`,
        bytes,
        expected: { sort: "equal", value: pages.map(valueOfPage) },
      };
    }
    if (turn === 1)
      return { what: "bytes changed", bytes: mutateBytes(random, bytes), expected: { sort: "any" } };
    const changes = random.integer(1, 4);
    for (let i = 0; i < changes; i++) changeDirectory(random, bytes, little);
    return { what: "words of the directory changed", bytes, expected: { sort: "any" } };
  },
  read: async (bytes) => {
    const type = sniffFileType(bytes, "f.tif");
    if (type !== "tiff") throw otherReader(type, "f.tif");
    const { pages } = await decodeTiff(bytes, "f.tif");
    return pages.map((page) => {
      const values = "levels" in page ? page.levels : page.values;
      return {
        width: page.width,
        height: page.height,
        values: values.length > 1e4 ? values.length : [...values],
      };
    });
  },
};

function makePages(random: Random): TiffPage[] {
  const [width, height] = [random.integer(1, 9), random.integer(1, 7)];
  const bits = random.pick([8, 16, 16, 32] as const);
  const photometric = bits === 32 ? 1 : random.pick([0, 1, 1] as const);
  const sample = (): number =>
    bits === 32 ? Math.fround(random.uniform(-50, 300)) : random.integer(0, 2 ** bits - 1);
  return Array.from({ length: random.chance(0.8) ? 1 : random.integer(2, 3) }, () => ({
    width,
    height,
    bits,
    format: bits === 32 ? 3 : 1,
    photometric,
    samples: Array.from({ length: width * height }, sample),
  }));
}

function valueOfPage({ width, height, bits, photometric, samples }: TiffPage): unknown {
  const turned = photometric === 0 ? samples.map((sample) => 2 ** bits - 1 - sample) : samples;
  return { width, height, values: turned };
}

/** Change a tag, a type, a count or a value of the first directory, whose ten entries begin at byte 10. */
function changeDirectory(random: Random, bytes: Buffer, little: boolean): void {
  const entry = 10 + 12 * random.integer(0, 9);
  const [at, wide, value] = random.pick([
    [entry, false, random.pick(TAGS)],
    [entry + 2, false, random.integer(0, 18)],
    [entry + 4, true, random.pick(NUMBERS)],
    [entry + 8, true, random.pick(NUMBERS)],
    [entry + 8, false, random.pick(NUMBERS) & 65535],
    // Where the next directory is: also this one again.
    [130, true, random.pick([0, 8, 10, ...NUMBERS])],
    [4, true, random.pick(NUMBERS)],
  ] as const);
  if (wide) little ? bytes.writeUInt32LE(value, at) : bytes.writeUInt32BE(value, at);
  else little ? bytes.writeUInt16LE(value, at) : bytes.writeUInt16BE(value, at);
}
