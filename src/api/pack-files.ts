// api: several files → the body of one request, as the server takes it apart.
import type { InboxHead } from "./inbox-schema.js";

/** Put files into one body: a line of JSON that lists them, then their bytes, in that order. Nothing is read on the way. */
export function packFiles(files: readonly { readonly name: string; readonly bytes: Blob }[]): Blob {
  const head: InboxHead = files.map(({ name, bytes }) => ({ name, bytes: bytes.size }));
  return new Blob([`${JSON.stringify(head)}\n`, ...files.map(({ bytes }) => bytes)]);
}
