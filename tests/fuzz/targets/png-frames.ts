// fuzz: grey pictures as PNG of every depth and form, whole, with their bytes changed, and with their chunks changed.
import { deflateSync } from "node:zlib";
import { parseScaleText } from "../../../src/frames/scale-schema.js";
import { decodePng } from "../../../src/read/decode-png.js";
import { sniffFileType } from "../../../src/read/sniff-file-type.js";
import type { Random } from "../../simulate/random.js";
import { chunk, header, SIGNATURE } from "../../unit/read/build-png.js";
import { type FuzzTarget, otherReader } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly depth: 1 | 2 | 4 | 8 | 16;
  /** 0 grey, 4 grey with opaque alpha. */
  readonly colourType: 0 | 4;
  readonly levels: readonly number[];
}
interface Part {
  readonly type: string;
  data: Uint8Array;
}

/** Frames as PNG. */
export const pngFrames: FuzzTarget = {
  name: "png",
  make: (random) => {
    const picture = makePicture(random);
    const parts = partsOf(random, picture);
    const { width, height, levels } = picture;
    const value = { width, height, levels };
    const turn = random.integer(0, 4);
    if (turn <= 1) return { what: "a whole picture", bytes: join(parts), expected: { sort: "equal", value } };
    if (turn === 2) {
      // Every chunk carries a check sum: what is still read is the same picture.
      return {
        what: "bytes changed",
        bytes: mutateBytes(random, join(parts)),
        expected: { sort: "equal or refused", value },
      };
    }
    const changes = random.integer(1, 3);
    for (let i = 0; i < changes; i++) changeParts(random, parts);
    return { what: "chunks changed, check sums right", bytes: join(parts), expected: { sort: "any" } };
  },
  read: (bytes) => {
    const type = sniffFileType(bytes, "f.png");
    if (type !== "png") throw otherReader(type, "f.png");
    const { image, scaleText } = decodePng(bytes, "f.png");
    if (scaleText !== null) parseScaleText(scaleText, { file: "f.png" });
    const { width, height, levels } = image;
    // A picture of a bomb would be long as text; these are not compared.
    return { width, height, levels: levels.length > 1e4 ? levels.length : [...levels] };
  },
};

function makePicture(random: Random): Picture {
  const [width, height] = [random.integer(1, 11), random.integer(1, 7)];
  const colourType = random.chance(0.2) ? 4 : 0;
  const depth = random.pick(colourType === 4 ? ([8, 16] as const) : ([1, 2, 4, 8, 16, 16] as const));
  const levels = Array.from({ length: width * height }, () => random.integer(0, 2 ** depth - 1));
  return { width, height, depth, colourType, levels };
}

/** Method of the filters: PNG specification, 3rd edition, §9.2. */
function partsOf(random: Random, { width, height, depth, colourType, levels }: Picture): Part[] {
  const bitsOf = (level: number): string =>
    level.toString(2).padStart(depth, "0") + (colourType === 4 ? "1".repeat(depth) : "");
  const bytesPerPixel = Math.max(1, (depth * (colourType === 4 ? 2 : 1)) >> 3);
  const rows: number[] = [];
  let above: number[] = [];
  for (let y = 0; y < height; y++) {
    const bits = levels
      .slice(y * width, (y + 1) * width)
      .map(bitsOf)
      .join("");
    const row = Array.from({ length: Math.ceil(bits.length / 8) }, (_, i) =>
      Number.parseInt(bits.slice(8 * i, 8 * i + 8).padEnd(8, "0"), 2),
    );
    const filter = random.integer(0, 4);
    rows.push(
      filter,
      ...row.map((byte, i) => {
        const [a, b, c] = [row[i - bytesPerPixel] ?? 0, above[i] ?? 0, above[i - bytesPerPixel] ?? 0];
        return (byte - [0, a, b, (a + b) >> 1, paeth(a, b, c)][filter]!) & 255;
      }),
    );
    above = row;
  }
  const stream = deflateSync(Uint8Array.from(rows), { level: random.integer(0, 9) });
  const cut = random.integer(0, stream.length);
  const parts: Part[] = [{ type: "IHDR", data: header(width, height, depth, colourType).subarray(8, 21) }];
  if (random.chance(0.3)) parts.push({ type: "gAMA", data: Uint8Array.of(0, 0, 0xb1, 0x8f) });
  if (random.chance(0.3))
    parts.push({ type: "tEXt", data: Buffer.from("faultglow-scale\u000015:45", "latin1") });
  if (random.chance(0.2))
    parts.push({ type: "zTXt", data: Buffer.concat([Buffer.from("Comment\u0000\u0000"), deflateSync("x")]) });
  parts.push({ type: "IDAT", data: stream.subarray(0, cut) }, { type: "IDAT", data: stream.subarray(cut) });
  if (random.chance(0.2)) parts.push({ type: "tIME", data: Uint8Array.of(7, 0xef, 1, 2, 3, 4, 5) });
  parts.push({ type: "IEND", data: new Uint8Array() });
  return parts;
}

function paeth(a: number, b: number, c: number): number {
  const p = a + b - c;
  const [pa, pb, pc] = [Math.abs(p - a), Math.abs(p - b), Math.abs(p - c)];
  return pa <= pb && pa <= pc ? a : pb <= pc ? b : c;
}

function changeParts(random: Random, parts: Part[]): void {
  const at = random.integer(0, parts.length - 1);
  const part = parts[at]!;
  switch (random.integer(0, 6)) {
    case 0:
      part.data = mutateBytes(random, part.data);
      break;
    case 1:
      parts.splice(at, 1);
      if (parts.length === 0) parts.push(part);
      break;
    case 2:
      parts.splice(random.integer(0, parts.length), 0, { ...part });
      break;
    case 3: {
      const type = random.pick([
        "PLTE",
        "tRNS",
        "sBIT",
        "iTXt",
        "tEXt",
        "zTXt",
        "iCCP",
        "IDAT",
        "ABCD",
        "abcd",
      ]);
      const data = Uint8Array.from({ length: random.integer(0, 40) }, () => random.integer(0, 255));
      parts.splice(random.integer(0, parts.length), 0, { type, data });
      break;
    }
    case 4: {
      const scale = random.pick([
        "20:45",
        "{}",
        '{"lowC":1',
        "45:20",
        "NaN:1",
        `${"[".repeat(300)}`,
        "1e308:-1e308",
        "\u202e",
      ]);
      const flag = random.pick([0, 1, 2]);
      const text = Buffer.from(scale, "utf8");
      parts.splice(1, 0, {
        type: "iTXt",
        data: Buffer.concat([
          Buffer.from("faultglow-scale"),
          Uint8Array.of(0, flag, 0, 0, 0),
          flag === 1 ? deflateSync(text) : text,
        ]),
      });
      break;
    }
    case 5: {
      // Sizes that the picture does not have.
      const size = () => random.pick([0, 1, 2, 7, 255, 4096, 65536, 0x7fffffff, 0xffffffff]);
      const data = Buffer.alloc(13);
      data.writeUInt32BE(size(), 0);
      data.writeUInt32BE(size(), 4);
      data.set(
        [random.pick([1, 2, 4, 8, 16, 3]), random.pick([0, 2, 3, 4, 6, 5]), 0, 0, random.integer(0, 2)],
        8,
      );
      parts[0] = { type: "IHDR", data };
      break;
    }
    default: {
      const raw = new Uint8Array(random.integer(0, 3000)).fill(random.integer(0, 5));
      parts[parts.findIndex(({ type }) => type === "IDAT")] = { type: "IDAT", data: deflateSync(raw) };
      break;
    }
  }
}

function join(parts: readonly Part[]): Uint8Array {
  return Buffer.concat([SIGNATURE, ...parts.map(({ type, data }) => chunk(type, data))]);
}
