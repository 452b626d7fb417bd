// api: rasters of one size ↔ one block of bytes: a head in JSON, then the numbers as they lie in memory.

/** What the numbers of a layer are. */
type LayerUnit = "degC" | "K" | "sigma" | "rank";

/** A raster of a block; row-major, NaN = no reading. Ranks are 0 for no hotspot, n for the hotspot of rank n. */
export interface Layer {
  readonly name: string;
  readonly unit: LayerUnit;
  readonly data: Float32Array;
}

/** Rasters of one view of an attempt, all on the pixels of its baseline frame: `baseline` (°C, averaged and repaired),
 *  `rise` (K, aligned, drift removed), `smoothRise` (K, at the scale that is tested), `significance` (smooth rise ÷ its
 *  noise), `modelled` (K, what the fitted sources make; only with a board), `ranks`. Of a frame in the inbox: `frame`
 *  (°C). */
export interface Pictures {
  readonly width: number;
  readonly height: number;
  readonly layers: readonly Layer[];
}

interface Head {
  readonly kind: "faultglow/pictures";
  readonly version: 1;
  readonly width: number;
  readonly height: number;
  readonly layers: readonly { readonly name: string; readonly unit: LayerUnit }[];
}

/** Bytes of the number that says how long the head is; the head is filled up with spaces to a multiple of it. */
const WORD = 4;

/** Put rasters into a block: the head's length (uint32), the head (UTF-8), then each layer's float32 numbers, all
 *  little-endian, as every machine that runs a browser today has them.
 *  @throws RangeError if a layer has another size (a fault of the caller).
 */
export function encodePictures({ width, height, layers }: Pictures): Uint8Array<ArrayBuffer> {
  const head: Head = {
    kind: "faultglow/pictures",
    version: 1,
    width,
    height,
    layers: layers.map(({ name, unit }) => ({ name, unit })),
  };
  const text = new TextEncoder().encode(JSON.stringify(head));
  const headBytes = Math.ceil(text.length / WORD) * WORD;
  const bytes = new Uint8Array(WORD + headBytes + layers.length * width * height * 4);
  new DataView(bytes.buffer).setUint32(0, headBytes, true);
  bytes.fill(0x20, WORD, WORD + headBytes);
  bytes.set(text, WORD);
  let at = WORD + headBytes;
  for (const { name, data } of layers) {
    if (data.length !== width * height) {
      throw new RangeError(`layer ${name} has ${data.length} numbers, not ${width}×${height}`);
    }
    new Float32Array(bytes.buffer, at, data.length).set(data);
    at += data.length * 4;
  }
  return bytes;
}

/** Take a block apart; the layers share its memory.
 *  @throws RangeError if it is no such block, or cut short.
 */
export function decodePictures(block: ArrayBuffer): Pictures {
  const headBytes = block.byteLength < WORD ? 0 : new DataView(block).getUint32(0, true);
  if (headBytes === 0 || headBytes % WORD !== 0 || WORD + headBytes > block.byteLength) {
    throw new RangeError("expected a block of pictures, found other bytes");
  }
  const head = JSON.parse(new TextDecoder().decode(new Uint8Array(block, WORD, headBytes))) as Head;
  if (head.kind !== "faultglow/pictures" || head.version !== 1) {
    throw new RangeError(`expected pictures of version 1, found ${head.kind} ${head.version}`);
  }
  const { width, height } = head;
  const size = width * height;
  const start = WORD + headBytes;
  if (block.byteLength !== start + head.layers.length * size * 4) {
    throw new RangeError("the block of pictures is cut short");
  }
  return {
    width,
    height,
    layers: head.layers.map(({ name, unit }, i) => ({
      name,
      unit,
      data: new Float32Array(block, start + i * size * 4, size),
    })),
  };
}

/** Find a layer by its name; null where there is none. */
export function layerOf(pictures: Pictures, name: string): Float32Array | null {
  return pictures.layers.find((layer) => layer.name === name)?.data ?? null;
}
