// read: files whose bytes this process has hashed → their SHA-256 again for as long as they stay as they are.
import { stat } from "node:fs/promises";

/** SHA-256 and length of a file. */
export interface KnownHash {
  readonly sha256: string;
  readonly bytes: number;
}

/** Remembers hashes by the files' stamps: a burst is hashed once, and not again each time something is made of it. */
export interface KnownHashes {
  note(stamp: string, sha256: string): void;
  /** The hash of a file, by whatever name, that is as it was when it was noted; null of any other. */
  find(path: string): Promise<KnownHash | null>;
  /** Forget all. */
  clear(): void;
}

/** More files than a burst has; a process that runs for weeks forgets those that it has hashed first. */
const MOST = 4096;

/** Make a place for hashes. */
export function openKnownHashes(most = MOST): KnownHashes {
  const kept = new Map<string, string>();
  return {
    note(stamp, sha256) {
      kept.set(stamp, sha256);
      for (const oldest of kept.keys()) {
        if (kept.size <= most) break;
        kept.delete(oldest);
      }
    },
    async find(path) {
      const stamp = kept.size === 0 ? null : await fileStamp(path);
      const sha256 = stamp === null ? undefined : kept.get(stamp);
      return sha256 === undefined ? null : { sha256, bytes: Number(stamp!.split(" ")[2]) };
    },
    clear() {
      kept.clear();
    },
  };
}

/** What tells a file from any other and from what it was before it was written to: disk, number, length, and time of
 *  the last writing. A second name or another one leaves it as it is. Null where there is no such file, or on a disk
 *  without numbers. */
export async function fileStamp(path: string): Promise<string | null> {
  const found = await stat(path, { bigint: true }).catch(() => null);
  return found === null || found.ino === 0n ? null : stampText(found);
}

/** The stamp by what the system says of a file. */
export function stampText(found: Record<"dev" | "ino" | "size" | "mtimeNs", bigint>): string {
  return `${found.dev} ${found.ino} ${found.size} ${found.mtimeNs}`;
}
