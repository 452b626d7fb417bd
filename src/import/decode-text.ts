// import: the bytes of a text of unknown encoding → the text.
import { decodeTextBytes } from "../frames/decode-text-bytes.js";

/** Decode a table or drawing: UTF-8 or UTF-16, and what is neither as Windows-1252, in which older programs write.
 *  @throws ToolError E_TEXT_ENCODING for what is no text. */
export function decodeText(bytes: Uint8Array, file?: string): string {
  const plain = decodeTextBytes(bytes, file);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(plain);
  } catch {
    return new TextDecoder("windows-1252").decode(plain);
  }
}
