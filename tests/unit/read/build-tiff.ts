// tests: samples → the bytes of a plain TIFF, so that decoding is held against something sharp did not write.

/** What a page of a TIFF is like. */
export interface TiffPage {
  readonly width: number;
  readonly height: number;
  readonly bits: 1 | 8 | 16 | 32;
  /** 1 unsigned, 2 signed, 3 floating point. */
  readonly format: 1 | 2 | 3;
  /** 0 white is zero, 1 black is zero, 2 colour. */
  readonly photometric: 0 | 1 | 2;
  readonly samples: readonly number[];
  readonly channels?: number;
}

/** Build an uncompressed TIFF of one strip a page.
 *  Method: TIFF revision 6.0 (Adobe 1992), part 1: an 8-byte header, then directories of 12-byte entries.
 */
export function buildTiff(pages: readonly TiffPage[], little: boolean): Buffer {
  const parts: Buffer[] = [];
  let at = 8;
  pages.forEach((page, n) => {
    const entries = 10;
    const channels = page.channels ?? 1;
    const size = Math.ceil((page.samples.length * page.bits) / 8);
    const directory = 2 + entries * 12 + 4;
    const buffer = Buffer.alloc(directory + size + (size % 2));
    const view = new DataView(buffer.buffer, buffer.byteOffset, buffer.length);
    const tags: [number, number, number][] = [
      [256, 4, page.width],
      [257, 4, page.height],
      [258, 3, page.bits],
      [259, 3, 1],
      [262, 3, page.photometric],
      [273, 4, at + directory],
      [277, 3, channels],
      [278, 4, page.height],
      [279, 4, size],
      [339, 3, page.format],
    ];
    view.setUint16(0, entries, little);
    tags.forEach(([tag, type, value], k) => {
      const p = 2 + k * 12;
      view.setUint16(p, tag, little);
      view.setUint16(p + 2, type, little);
      view.setUint32(p + 4, 1, little);
      if (type === 3) view.setUint16(p + 8, value, little);
      else view.setUint32(p + 8, value, little);
    });
    at += buffer.length;
    view.setUint32(2 + entries * 12, n + 1 < pages.length ? at : 0, little);
    page.samples.forEach((value, i) => {
      const p = directory + (i * page.bits) / 8;
      if (page.format === 3) view.setFloat32(p, value, little);
      else if (page.bits === 32) view.setUint32(p, value, little);
      else if (page.bits === 16) view.setUint16(p, value & 0xffff, little);
      else if (page.bits === 8) view.setUint8(p, value);
    });
    parts.push(buffer);
  });
  const head = Buffer.alloc(8);
  const view = new DataView(head.buffer, head.byteOffset, 8);
  view.setUint16(0, little ? 0x4949 : 0x4d4d);
  view.setUint16(2, 42, little);
  view.setUint32(4, 8, little);
  return Buffer.concat([head, ...parts]);
}
