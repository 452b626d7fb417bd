// page: what was dropped, chosen or pasted → files with the folders they lay in.
import type { NamedFile } from "../state/uploads.js";

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

/** Files by name, numbers in it counted as numbers, so that a burst is sent in its order. A scale file goes right before its
 *  picture, which would ask for a scale if it were read first. Hidden files are left out.
 */
export function inOrder(files: readonly NamedFile[]): NamedFile[] {
  const collator = new Intl.Collator("en", { numeric: true });
  const isScale = ({ name }: NamedFile): boolean => /\.json$/i.test(name);
  const nameOf = ({ name }: NamedFile): string => name.replace(/\.json$/i, "");
  return files
    .filter(({ name }) => !/(?:^|\/)\.[^/]*$/.test(name))
    .sort((a, b) => collator.compare(nameOf(a), nameOf(b)) || Number(isScale(b)) - Number(isScale(a)));
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
