// page: what was dropped, chosen or pasted → files with the folders they lay in.
import { isJson, type NamedFile } from "../state/uploads.js";

/** Collect the files of a drop, folders walked through.
 *  The entries must be taken before the first pause: the browser forgets them after the event.
 */
export async function collectDropped(transfer: DataTransfer): Promise<NamedFile[]> {
  const entries = [...transfer.items]
    .map((item) => item.webkitGetAsEntry?.() ?? null)
    .filter((entry) => entry !== null);
  if (entries.length === 0) return collectChosen(transfer.files);
  const files: NamedFile[] = [];
  for (const entry of entries) await walk(entry, files);
  return inOrder(files);
}

/** Collect the files of an input, or of the clipboard. */
export function collectChosen(list: FileList | readonly File[]): NamedFile[] {
  return inOrder([...list].map((file) => ({ name: file.webkitRelativePath || file.name, file })));
}

/** Files by name, numbers in it counted as numbers, so that a burst is sent in its order. JSON goes first: a picture
 *  would ask for its scale if it were read before that, and views and maps are of use while frames come. Hidden files
 *  are left out.
 */
export function inOrder(files: readonly NamedFile[]): NamedFile[] {
  const collator = new Intl.Collator("en", { numeric: true });
  return files
    .filter(({ name }) => !/(?:^|\/)\.[^/]*$/.test(name))
    .sort((a, b) => Number(isJson(b)) - Number(isJson(a)) || collator.compare(a.name, b.name));
}

async function walk(entry: FileSystemEntry, into: NamedFile[]): Promise<void> {
  if (entry.isFile) {
    const file = await new Promise<File>((done, fail) => (entry as FileSystemFileEntry).file(done, fail));
    into.push({ name: entry.fullPath.replace(/^\//, ""), file });
    return;
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  // A reader gives a folder's entries in portions, an empty one at the end.
  for (;;) {
    const portion = await new Promise<FileSystemEntry[]>((done, fail) => reader.readEntries(done, fail));
    if (portion.length === 0) return;
    for (const inner of portion) await walk(inner, into);
  }
}
