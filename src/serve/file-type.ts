// serve: the name of a file that the tool made → its media type.

const TYPES: Readonly<Record<string, string>> = Object.freeze({
  html: "text/html; charset=utf-8",
  pdf: "application/pdf",
  png: "image/png",
  json: "application/json; charset=utf-8",
  zip: "application/zip",
});

/** Media type by the name's ending; plain bytes for all others. */
export function fileType(file: string): string {
  return TYPES[file.slice(file.lastIndexOf(".") + 1)] ?? "application/octet-stream";
}
