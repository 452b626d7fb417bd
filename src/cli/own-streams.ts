// cli: the process's own output → streams that write to a file or a pipe at once.
import { fstatSync, writeSync } from "node:fs";
import type { TextStream } from "./command-output.js";

/** A pipe has room for twice as much: a command that goes on for long never waits for a reader that does not read. */
const AT_ONCE_BYTES = 32_768;

/** The process's output (1) or its errors (2). Node's own streams cost a short run some milliseconds until the first
 *  word is written; what is no terminal needs none of them for the first bytes.
 */
export function ownStream(fd: 1 | 2): TextStream {
  const nodes = (): TextStream => (fd === 1 ? process.stdout : process.stderr);
  if (!takesAtOnce(fd)) return nodes();
  // Once Node's stream has something, all goes through it: else a later word would come first.
  let handedOver: TextStream | null = null;
  let room = AT_ONCE_BYTES;
  const handOver = (): NodeJS.WriteStream => {
    if (handedOver === null) {
      handedOver = nodes();
      handedOver.on("error", () => {});
    }
    return handedOver as NodeJS.WriteStream;
  };
  return {
    write: (text, done) => {
      let left = Buffer.from(text);
      room -= left.length;
      if (handedOver !== null || room < 0) return handOver().write(left, done);
      try {
        while (left.length > 0) left = left.subarray(writeSync(fd, left));
      } catch (error) {
        // Whoever shares the pipe has made it one that does not wait.
        if ((error as NodeJS.ErrnoException).code === "EAGAIN") return handOver().write(left, done);
        done?.(error as Error);
        return false;
      }
      done?.();
      return true;
    },
    on: () => {},
  };
}

/** Terminals and devices, and whatever another system has, are left to Node. */
function takesAtOnce(fd: number): boolean {
  if (process.platform === "win32") return false;
  try {
    const kind = fstatSync(fd);
    return kind.isFile() || kind.isFIFO() || kind.isSocket();
  } catch {
    return false;
  }
}
