// read: the bytes of a file → their SHA-256.
import { createHash, webcrypto } from "node:crypto";

/** The way by another thread of Node's costs 2 ms when it is first taken, as much as so many bytes take here. */
const WORTH_IT_BYTES = 3 * 1024 * 1024;
/** Fewer bytes than this are done before they are handed over. */
const LEAST_BYTES = 1 << 18;

let hashedHere = 0;

/** Compute the SHA-256 of bytes that don't change meanwhile; from some megabytes on in a thread of Node's own, while
 *  this one goes on.
 *  @returns hexadecimal, lower case.
 */
export async function hashBytes(bytes: Uint8Array): Promise<string> {
  if (hashedHere < WORTH_IT_BYTES || bytes.length < LEAST_BYTES) {
    hashedHere += bytes.length;
    return createHash("sha256").update(bytes).digest("hex");
  }
  return Buffer.from(await webcrypto.subtle.digest("SHA-256", bytes)).toString("hex");
}
