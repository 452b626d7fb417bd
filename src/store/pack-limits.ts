// store: how large a pack may be, which its maker and its reader both hold to.
import { ToolError } from "../core/errors.js";

/** How large a pack may be. */
export interface PackLimits {
  /** The zip. */
  readonly zipBytes: number;
  /** All files together, and their number. */
  readonly bytes: number;
  readonly files: number;
  readonly fileBytes: number;
  /** Times that files may be larger than the zip holds them, and below how many bytes that is not asked. */
  readonly times: number;
  readonly timesFrom: number;
}

/** Limits of a pack. What is made within them can be opened again, but for what packs closer than frames do
 *  (`times`). */
export const PACK_LIMITS: PackLimits = Object.freeze({
  /** What Node reads at a time. */
  zipBytes: 2 ** 31 - 1,
  /** What a zip without its 64-bit extension can hold (PKWARE APPNOTE 4.4.8, 4.4.21). */
  bytes: 0xffffffff,
  files: 0xffff,
  /** A burst in one TIFF may have some hundred MB. */
  fileBytes: 2 ** 30,
  /** Frames of noise pack ten to one, zeros a thousand to one. */
  times: 200,
  /** A small file of equal values may pack as closely as it likes. */
  timesFrom: 64 * 1024 * 1024,
});

/** Word an error of packs. */
export function packError(problem: string, file: string, fix: string): ToolError {
  return new ToolError("E_JOB_PACK", { problem, fix, place: { file } });
}
