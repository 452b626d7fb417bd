// api: several files → the body of one request, as the server takes it apart.
import type { InboxHead } from "./inbox-schema.js";

/** A file to be sent with others. */
export interface PackedFile {
  readonly name: string;
  readonly content: Blob;
  /** Length of the content. */
  readonly bytes: number;
}

/** Put files into one body: a line of JSON that lists them, then their bytes, in that order. Nothing is read on the
 *  way. */
export function packFiles(files: readonly PackedFile[]): Blob {
  const head: InboxHead = files.map(({ name, bytes }) => ({ name, bytes }));
  return new Blob([`${JSON.stringify(head)}\n`, ...files.map(({ content }) => content)]);
}
