// watch: what is known of a file in a watched folder → types.

/** What frames are for. */
export type Role = "baseline" | "powered";

/** A file as the folder's listing shows it. */
export interface ListedFile {
  readonly path: string;
  /** From the watched folder, with `/`. */
  readonly name: string;
  readonly bytes: number;
  /** When it was last written, by the clock of the disk, ms. */
  readonly mtimeMs: number;
}

/** A whole file of one or more frames. */
export interface WatchedFrame extends ListedFile {
  readonly sha256: string;
  readonly width: number;
  readonly height: number;
  /** By its name; null where the name does not tell. */
  readonly role: Role | null;
}

/** Frames that follow each other, of one size and one role. */
export interface FrameGroup {
  readonly frames: readonly WatchedFrame[];
  readonly role: Role | null;
}

/** What the job says of frames by their SHA-256. */
export interface JobRecord {
  readonly roles: ReadonlyMap<string, Role>;
  readonly setAside: ReadonlySet<string>;
  /** When the job was begun, ms. */
  readonly createdMs: number;
}
