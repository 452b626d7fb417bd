// report: tables of a TrueType font → the font's bytes.

const HEADER = 12;
const ENTRY = 16;
const CHECKSUM_OF_ALL = 0xb1b0afba;

/** Put tables into one font: directory by tag, tables at multiples of four, checksums.
 *  Method: OpenType specification 1.9, "Organization of an OpenType Font".
 */
export function packSfnt(tables: ReadonlyMap<string, Uint8Array>): Uint8Array {
  const tags = [...tables.keys()].sort();
  const start = HEADER + ENTRY * tags.length;
  const size = tags.reduce((sum, tag) => sum + padded(tables.get(tag)!.length), start);
  const out = new Uint8Array(size);
  const view = new DataView(out.buffer);
  const power = 2 ** Math.floor(Math.log2(tags.length));
  view.setUint32(0, 0x00010000);
  view.setUint16(4, tags.length);
  view.setUint16(6, 16 * power);
  view.setUint16(8, Math.log2(power));
  view.setUint16(10, 16 * (tags.length - power));
  let at = start;
  let headAt = -1;
  tags.forEach((tag, i) => {
    const bytes = tables.get(tag)!;
    out.set(bytes, at);
    if (tag === "head") {
      headAt = at;
      view.setUint32(at + 8, 0);
    }
    const entry = HEADER + ENTRY * i;
    for (let k = 0; k < 4; k++) out[entry + k] = tag.charCodeAt(k);
    view.setUint32(entry + 4, checksum(view, at, padded(bytes.length)));
    view.setUint32(entry + 8, at);
    view.setUint32(entry + 12, bytes.length);
    at += padded(bytes.length);
  });
  if (headAt >= 0) view.setUint32(headAt + 8, (CHECKSUM_OF_ALL - checksum(view, 0, size)) >>> 0);
  return out;
}

function padded(bytes: number): number {
  return (bytes + 3) & ~3;
}

function checksum(view: DataView, at: number, bytes: number): number {
  let sum = 0;
  for (let i = at; i < at + bytes; i += 4) sum = (sum + view.getUint32(i)) >>> 0;
  return sum;
}
