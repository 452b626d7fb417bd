// store: a zip → the check sum that its directory states for each file, in the order of the directory.

const END = 0x06054b50;
const END_64 = 0x06064b50;
const LOCATOR_64 = 0x07064b50;
const ENTRY = 0x02014b50;
const END_BYTES = 22;
/** A zip may end with a remark of so many bytes. */
const MOST_REMARK = 0xffff;

/** Read the CRC-32 of every file in a zip. The library that unzips does not compare them, so a damaged zip would pass.
 *  Method: PKWARE APPNOTE 6.3.10, 4.3.12 (directory), 4.3.14 to 4.3.16 (its end).
 *  @returns null if there is no directory that can be followed.
 */
export function zipChecksums(zip: Uint8Array): number[] | null {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  const end = findEnd(view);
  if (end === null) return null;
  const sums: number[] = [];
  let at = end.directory;
  for (let i = 0; i < end.files; i++) {
    if (at + 46 > zip.length || view.getUint32(at, true) !== ENTRY) return null;
    sums.push(view.getUint32(at + 16, true));
    at += 46 + view.getUint16(at + 28, true) + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
  }
  return sums;
}

function findEnd(view: DataView): { files: number; directory: number } | null {
  const last = view.byteLength - END_BYTES;
  for (let at = last; at >= 0 && at >= last - MOST_REMARK; at--) {
    if (view.getUint32(at, true) !== END) continue;
    const files = view.getUint16(at + 10, true);
    const directory = view.getUint32(at + 16, true);
    const large = at >= 20 && view.getUint32(at - 20, true) === LOCATOR_64;
    return large ? findEnd64(view, at - 20) : { files, directory };
  }
  return null;
}

function findEnd64(view: DataView, locator: number): { files: number; directory: number } | null {
  const at = Number(view.getBigUint64(locator + 8, true));
  if (at + 56 > view.byteLength || view.getUint32(at, true) !== END_64) return null;
  return { files: view.getUint32(at + 32, true), directory: Number(view.getBigUint64(at + 48, true)) };
}
