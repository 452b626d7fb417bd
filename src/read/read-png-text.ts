// read: the text chunks of a PNG → the text under one keyword.
import { inflateSync } from "node:zlib";
import { corruptPng } from "./png-errors.js";
import type { PngChunks } from "./read-png-chunks.js";

/** Most bytes that a compressed text may inflate to; a scale needs a hundred. */
const MAX_TEXT_BYTES = 65536;

/** Find the first text with a keyword in the text chunks of a PNG.
 *  Method: PNG specification, 3rd edition, §11.3.3: tEXt is Latin-1, zTXt the same compressed, iTXt is UTF-8 with
 *  a compression flag, a language and a translated keyword.
 *  @returns null if no text has the keyword. Chunks with another keyword are not looked into.
 *  @throws ToolError E_PNG_CORRUPT if the text can't be inflated or its chunk is cut short.
 */
export function readPngText(chunks: PngChunks, keyword: string, file: string): string | null {
  for (const { type, data } of chunks.texts) {
    const end = data.indexOf(0);
    if (end < 0 || latin1(data.subarray(0, end)) !== keyword) continue;
    if (type === "tEXt") return latin1(data.subarray(end + 1));
    if (type === "zTXt") {
      if (data[end + 1] !== 0) throw corruptPng(`the text ${keyword} has an unknown compression`, file);
      return latin1(inflateText(data.subarray(end + 2), keyword, file));
    }
    const language = end + 3;
    const translated = data.indexOf(0, language) + 1;
    const text = data.indexOf(0, translated) + 1;
    const [flag, method] = [data[end + 1], data[end + 2]];
    if (translated === 0 || text === 0 || method !== 0 || flag === undefined || flag > 1) {
      throw corruptPng(`the text ${keyword} breaks the standard`, file);
    }
    const bytes = data.subarray(text);
    return new TextDecoder().decode(flag === 1 ? inflateText(bytes, keyword, file) : bytes);
  }
  return null;
}

function inflateText(bytes: Uint8Array, keyword: string, file: string): Uint8Array {
  try {
    return inflateSync(bytes, { maxOutputLength: MAX_TEXT_BYTES });
  } catch (error) {
    throw corruptPng(`the text ${keyword} can't be inflated (${(error as Error).message})`, file);
  }
}

function latin1(bytes: Uint8Array): string {
  return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString("latin1");
}
