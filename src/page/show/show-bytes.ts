// page: a number of bytes → text.

/** Word a size of a file: `640 B`, `72 kB`, `1.3 MB`. */
export function bytesText(bytes: number): string {
  if (bytes < 1000) return `${bytes} B`;
  if (bytes < 999_500) return `${Math.round(bytes / 1000)} kB`;
  return `${(bytes / 1e6).toFixed(bytes < 9.95e6 ? 1 : 0)} MB`;
}
