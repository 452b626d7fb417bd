// read: the name of a file that a person gave → its bytes, and never those of a device, which has no end.
import { closeSync, createReadStream, openSync, readFileSync, readSync, type Stats, statSync } from "node:fs";
import { open, readFile, stat } from "node:fs/promises";

/** A pipe does not say how much it brings. Long recordings come as files; this is far more than anything else has. */
const MOST_OF_A_PIPE = 256 * 1024 * 1024;

/** A file beyond so many bytes is looked at before it is read: it may be anything, and reading it takes time and
 *  memory. */
const LONG = 16 * 1024 * 1024;
/** Bytes of its start that are looked at. */
const START = 4096;

/** Told length and first bytes of a long file before it is read; throws to refuse it. */
export type LongJudge = (bytes: number, start: Buffer) => void;

/** Read a file, or what comes out of a pipe until its writer closes it.
 *  @param atMost of more than so many bytes only so many and one are read, for the reader of their format to refuse.
 *  @param judge of a long file; what it throws is thrown.
 *  @throws what the system says, and in its form, codes NOT_A_FILE and LONG_PIPE (words by `readReason`). */
export async function readGiven(
  path: string,
  atMost = Number.POSITIVE_INFINITY,
  judge: LongJudge = () => {},
): Promise<Buffer> {
  const found = await stat(path);
  refuseDevice(found);
  if (found.isFIFO()) return readPipe(path, Math.min(atMost, MOST_OF_A_PIPE));
  judgeLong(path, found, judge);
  if (found.size <= atMost) return readFile(path);
  const file = await open(path);
  try {
    const bytes = Buffer.alloc(atMost + 1);
    return bytes.subarray(0, (await file.read(bytes, 0, bytes.length, 0)).bytesRead);
  } finally {
    await file.close();
  }
}

/** Read a file without leaving this thread; null for a pipe, which may keep it waiting.
 *  @throws as `readGiven` does. */
export function readGivenAtOnce(path: string, judge: LongJudge = () => {}): Buffer | null {
  // Asked by its name: who opens a pipe and closes it again takes its writer along.
  const found = statSync(path);
  refuseDevice(found);
  if (found.isFIFO()) return null;
  judgeLong(path, found, judge);
  return readFileSync(path);
}

function judgeLong(path: string, found: Stats, judge: LongJudge): void {
  if (found.size <= LONG || !found.isFile()) return;
  const start = Buffer.alloc(START);
  const file = openSync(path, "r");
  try {
    judge(found.size, start.subarray(0, readSync(file, start)));
  } finally {
    closeSync(file);
  }
}

async function readPipe(path: string, atMost: number): Promise<Buffer> {
  const parts: Buffer[] = [];
  let bytes = 0;
  for await (const part of createReadStream(path)) {
    parts.push(part as Buffer);
    bytes += parts.at(-1)!.length;
    if (bytes > atMost) {
      if (atMost < MOST_OF_A_PIPE) break;
      throw systemLike("LONG_PIPE");
    }
  }
  return Buffer.concat(parts);
}

function refuseDevice(found: Stats): void {
  if (found.isCharacterDevice() || found.isBlockDevice()) throw systemLike("NOT_A_FILE");
}

function systemLike(code: string): Error {
  return Object.assign(new Error(code), { code });
}
