// serve: a file that may be a photo → whether it can be opened here, and if not, why.
import { open } from "node:fs/promises";
import sharp from "sharp";
import { ToolError } from "../core/errors.js";

/** Brands of files whose pictures are packed by HEVC, as phones write them (ISO/IEC 23008-12, annex B; from memory). */
const HEVC_BRANDS: readonly string[] = ["heic", "heix", "heim", "heis", "hevc", "hevx"];
/** First bytes of the pictures that photos come as, hex: JPEG, PNG, GIF, TIFF in both byte orders, WebP, HEIF and AVIF.
 *  The library would also open drawings, and of those a few bytes, packed or not, may ask for gigabytes and for
 *  hours. */
const PHOTO_STARTS: readonly RegExp[] = [
  /^ffd8ff/,
  /^89504e470d0a1a0a/,
  /^47494638/,
  /^(?:49492a00|4d4d002a)/,
  /^52494646.{8}57454250/,
  /^.{8}66747970/,
];
/** Brands follow each other in the first box of such a file; no more than this of it is looked at, bytes. */
const LOOK_BYTES = 64;

/** Say whether a file is a photo that can be opened here.
 *  @returns false for what is no picture at all.
 *  @throws ToolError E_FRAME_TYPE for a photo of a phone whose packing this build can't undo: that depends on the
 *  system.
 */
export async function isPhoto(path: string): Promise<boolean> {
  if (!(await beginsAsPhoto(path))) return false;
  if (isHevc(await readHead(path))) {
    // Its head can be read anywhere; whether its picture can is known once a little of it was.
    const opened = await sharp(path)
      .resize(8)
      .toBuffer()
      .catch(() => null);
    if (opened === null) throw heicError();
    return true;
  }
  try {
    const { width, height } = await sharp(path).metadata();
    return width > 0 && height > 0;
  } catch {
    return false;
  }
}

/** Say whether a file begins as photos do. Nothing else may be opened as a picture. */
export async function beginsAsPhoto(path: string): Promise<boolean> {
  const start = (await readHead(path)).toString("hex");
  return PHOTO_STARTS.some((one) => one.test(start));
}

/** The error for a photo that can't be opened here. */
export async function photoError(path: string, cause: unknown): Promise<ToolError> {
  if (isHevc(await readHead(path))) return heicError();
  const why = cause instanceof Error ? cause.message.split("\n")[0] : String(cause);
  return new ToolError("E_FRAME_TYPE", {
    problem: `expected a photo, but this can't be opened as one: ${why}`,
    fix: "Save it as JPEG or PNG, and drop it again",
  });
}

function heicError(): ToolError {
  return new ToolError("E_FRAME_TYPE", {
    problem:
      "this is a HEIC photo, as phones write them, and its packing (HEVC) can't be undone on this machine",
    fix: "Save or send it as JPEG (phones call that the most compatible form), and drop that",
  });
}

/** The first box of an ISO base media file, `ftyp`: its size, its name, the main brand, a version, more brands
 *  (ISO/IEC 14496-12, 4.3). */
function isHevc(head: Buffer): boolean {
  if (head.length < 16 || head.toString("latin1", 4, 8) !== "ftyp") return false;
  const end = Math.min(head.length, head.readUInt32BE(0));
  for (let at = 8; at + 4 <= end; at += 4)
    if (HEVC_BRANDS.includes(head.toString("latin1", at, at + 4))) return true;
  return false;
}

async function readHead(path: string): Promise<Buffer> {
  const handle = await open(path);
  try {
    const { buffer, bytesRead } = await handle.read(Buffer.alloc(LOOK_BYTES), 0, LOOK_BYTES, 0);
    return buffer.subarray(0, bytesRead);
  } finally {
    await handle.close();
  }
}
