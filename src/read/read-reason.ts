// read: what the system says when a file can't be read → the reason in words.

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  ENOTDIR: "there is no such file",
  EACCES: "you have no permission to read it",
  EPERM: "you have no permission to read it",
  EISDIR: "it is a folder, not a file",
  EMFILE: "too many files are open",
  ELOOP: "its links lead in a circle",
  NOT_A_FILE: "it is a device, not a file",
  LONG_PIPE: "more than 256 MB came out of the pipe",
  ERR_FS_FILE_TOO_LARGE: "it is larger than 2 GB",
};

/** Say why a file can't be read; in the system's own words where there are none of ours. */
export function readReason(error: unknown): string {
  const { code, message } = error as NodeJS.ErrnoException;
  return REASONS[code ?? ""] ?? message;
}
