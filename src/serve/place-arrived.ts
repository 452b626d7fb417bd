// serve: files that were received → in their places in an inbox, each with what is known of it; many in one go.
import { momentOf } from "../job/moment-of.js";
import { type About, placeDropped, type ReceivedFile, readAbouts } from "./dropped-about.js";
import { endingOf } from "./dropped-name.js";

/** A file that was received. */
export interface Arrived {
  readonly sha256: string;
  readonly bytes: number;
  readonly name: string;
  readonly path: string;
  /** What is known of it already; null: it is to be read. */
  readonly read: About["read"];
}

/** Place files that arrived. The same bytes again only add a name. */
export async function placeArrived(folder: string, arrived: readonly Arrived[]): Promise<About[]> {
  const abouts = new Map(await readAbouts(folder));
  const received = arrived.map(({ sha256, bytes, name, path, read }): ReceivedFile => {
    const before = abouts.get(sha256);
    const about: About =
      before === undefined
        ? {
            kind: "faultglow/dropped",
            version: 1,
            sha256,
            names: [name],
            bytes,
            at: momentOf(new Date()),
            said: null,
            scale: null,
            ending: endingOf(name),
            read,
          }
        : { ...before, names: [...new Set([...before.names, name])], read: before.read ?? read };
    abouts.set(sha256, about);
    return { about, path };
  });
  await placeDropped(folder, received);
  return received.map(({ about }) => about);
}
