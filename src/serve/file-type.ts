// serve: the name of a file that the tool made → its media type.
import { extname } from "node:path";

const TYPES: Readonly<Record<string, string>> = Object.freeze({
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".woff2": "font/woff2",
  ".json": "application/json; charset=utf-8",
  ".pdf": "application/pdf",
  ".zip": "application/zip",
});

/** Media type by the name's ending; plain bytes for all others. */
export function fileType(file: string): string {
  return TYPES[extname(file)] ?? "application/octet-stream";
}
