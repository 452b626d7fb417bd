// serve: bytes → an answer that a browser shows or saves, and never takes for a page of the bench's own.
import type { Context } from "hono";
import { fileType } from "./file-type.js";

/** Give bytes. What people dropped is never shown as a page: the type says bytes, and sniffing is off. */
export function giveBytes(
  c: Context,
  bytes: Uint8Array,
  type = "application/octet-stream",
  name?: string,
): Response {
  c.header("Content-Type", type);
  if (name !== undefined) c.header("Content-Disposition", `attachment; filename="${name}"`);
  return c.body(bytes as Uint8Array<ArrayBuffer>);
}

/** Give a file that the tool made. Pictures are shown; everything else is saved. A report is a page of its own, which
 *  may load nothing and run nothing. */
export function giveFile(c: Context, file: string, bytes: Uint8Array): Response {
  const type = fileType(file);
  if (type === "image/png") return giveBytes(c, bytes, type);
  if (type.startsWith("text/html")) {
    c.header(
      "Content-Security-Policy",
      "sandbox; default-src 'none'; style-src 'unsafe-inline'; img-src data:",
    );
  }
  return giveBytes(c, bytes, type, file);
}
