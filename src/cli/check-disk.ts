// cli: a folder → whether files can be written to it, and whether there is room.
import { randomUUID } from "node:crypto";
import { existsSync } from "node:fs";
import { open, statfs, unlink } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import { diskReason } from "../report/output-error.js";
import { fine, type MachineLine } from "./machine-line.js";

/** What a folder is for. */
export interface DiskUse {
  readonly what: string;
  /** What can't be done where it can't be written to, and what to do. */
  readonly refused: string;
  /** Room below which is warned, bytes, and what it is needed for. */
  readonly roomBytes: number;
  readonly roomFor: string;
  /** True if the folder may be missing: then it is made later, in the nearest one above it that is there. */
  readonly made: boolean;
}

/** Below this nothing useful fits, bytes: a job with one attempt of two frames of 128×96 takes 0.7 MB (measured). */
const LEAST_BYTES = 20e6;

/** Write an empty file into the folder, remove it, and look at the room that is left. Nothing stays behind. */
export async function checkDisk(folder: string, use: DiskUse): Promise<MachineLine> {
  const { what, refused } = use;
  const place = use.made ? nearest(resolve(folder)) : resolve(folder);
  const file = join(place, `.faultglow-doctor-${randomUUID()}`);
  try {
    await (await open(file, "wx")).close();
    await unlink(file);
  } catch (error) {
    return {
      what,
      state: "not ok",
      found: `${folder} can't be written to: ${diskReason(error)}`,
      fix: refused,
    };
  }
  const later = place === resolve(folder) ? "" : ", will be made";
  let freeBytes: number;
  try {
    const { bavail, bsize } = await statfs(place);
    freeBytes = bavail * bsize;
  } catch {
    return fine(what, `${folder} can be written to${later}; the system does not tell how much room there is`);
  }
  return roomLine(use, `${folder} can be written to${later}`, freeBytes);
}

/** Judge the room on a disk. */
export function roomLine(
  { what, roomBytes, roomFor }: DiskUse,
  found: string,
  freeBytes: number,
): MachineLine {
  const text = `${found}, ${sizeText(freeBytes)} free`;
  if (freeBytes >= roomBytes) return fine(what, text);
  const state = freeBytes < LEAST_BYTES ? "not ok" : "look";
  return { what, state, found: text, fix: `Make room: ${roomFor}` };
}

/** The folder, or the lowest of those above it that is there. */
function nearest(folder: string): string {
  const above = dirname(folder);
  return existsSync(folder) || above === folder ? folder : nearest(above);
}

/** Bytes in the unit that suits them, by decimal prefixes as disks are sold. */
export function sizeText(bytes: number): string {
  const units = ["B", "kB", "MB", "GB", "TB"];
  let value = bytes;
  let k = 0;
  while (value >= 1000 && k < units.length - 1) {
    value /= 1000;
    k++;
  }
  return `${k === 0 || value >= 100 ? value.toFixed(0) : value.toFixed(1)} ${units[k]}`;
}
