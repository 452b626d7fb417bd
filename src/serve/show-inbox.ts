// serve: what is known of the files in an inbox → how they are shown, with the roles of frames.
import type { InboxFile } from "../api/inbox-schema.js";
import { compareNatural } from "../read/compare-natural.js";
import type { About } from "./dropped-about.js";
import { guessRoles } from "./guess-roles.js";

/** Show the files of an inbox, in natural order of their names, with the roles of frames.
 *  @param attempts numbers of attempts by the frames that they have.
 *  @param toolVersion by which files have to have been read. */
export function showInbox(
  abouts: ReadonlyMap<string, About>,
  attempts: ReadonlyMap<string, readonly number[]>,
  toolVersion: string,
): InboxFile[] {
  const sorted = [...abouts.values()].sort((a, b) => compareNatural(a.names[0]!, b.names[0]!));
  const roles = guessRoles(
    sorted.flatMap(({ sha256, names, read, said }) =>
      read?.frame ? [{ sha256, name: names[0]!, frame: read.frame, said }] : [],
    ),
  );
  return sorted.map((about) => {
    const { sha256, names, bytes, at, said, scale } = about;
    const read = isUnread(about, toolVersion) ? null : about.read;
    const told = roles.get(sha256) ?? null;
    return {
      sha256,
      names,
      bytes,
      at,
      sort: read?.sort ?? "unread",
      frame: read?.frame ?? null,
      notes: read?.notes ?? [],
      error: read?.error ?? null,
      said,
      role: told?.role ?? null,
      roleBy: told?.by ?? null,
      scale,
      attempts: [...(attempts.get(sha256) ?? [])],
    };
  });
}

/** True for what has not been read by this version of the tool. */
export function isUnread({ read }: About, toolVersion: string): boolean {
  return read === null || read.tool !== toolVersion;
}
