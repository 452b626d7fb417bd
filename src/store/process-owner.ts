// store: this process → who holds a lock; who holds a lock → whether that process still runs.
import { randomUUID } from "node:crypto";
import { readFileSync } from "node:fs";
import { hostname } from "node:os";
import * as z from "zod";

/** Who holds a lock or makes something ready, as it stands in the lock's file. */
export const ownerSchema = z.object({
  kind: z.literal("faultglow/lock"),
  version: z.literal(1),
  /** Random: no two locks are alike. */
  id: z.string().regex(/^[0-9a-f-]{36}$/),
  pid: z.int().positive(),
  host: z.string(),
  /** When the process began, in the system's own words; null where the system does not say. Tells a process from a
   *  later one that was given the same number. */
  processStart: z.string().nullable(),
  since: z.string(),
});
export type Owner = z.infer<typeof ownerSchema>;

/** When this process began; it stays the same, and the system's files take longer to ask than a lock takes to write. */
let ownStart: string | null | undefined;

/** Name this process as an owner. @param since ISO 8601, for people. */
export function thisProcess(since: string): Owner {
  ownStart ??= processStart(process.pid);
  return {
    kind: "faultglow/lock",
    version: 1,
    id: randomUUID(),
    pid: process.pid,
    host: hostname(),
    processStart: ownStart,
    since,
  };
}

/** Parse an owner; null for what is none. */
export function parseOwner(bytes: Uint8Array): Owner | null {
  try {
    return ownerSchema.parse(JSON.parse(new TextDecoder().decode(bytes)));
  } catch {
    return null;
  }
}

/** True if the owner is known to be gone: a process of this machine that no longer runs. Of other machines nothing is
 *  known. */
export function isGone(owner: Owner): boolean {
  if (owner.host !== hostname()) return false;
  if (!isRunning(owner.pid)) return true;
  const start = processStart(owner.pid);
  return start !== null && owner.processStart !== null && start !== owner.processStart;
}

/** True if this machine has a process of that number. */
export function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    // EPERM: there is one, of another user.
    return (error as NodeJS.ErrnoException).code !== "ESRCH";
  }
}

/** Boot and clock tick at which a process began, by proc(5): field 22 of stat, which comes after a name that may hold
 *  spaces and brackets. Null on systems without. */
function processStart(pid: number): string | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    const boot = readFileSync("/proc/sys/kernel/random/boot_id", "utf8").trim();
    // The state is field 3; a process that has ended and waits to be collected (Z) runs no more.
    return fields[0] === "Z" ? "ended" : `${boot} ${fields[19]}`;
  } catch {
    return null;
  }
}
