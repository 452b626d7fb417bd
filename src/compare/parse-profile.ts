// compare: parsed JSON → a healthy profile that can be relied on, and notes on keys that are not known.
import { checkKind } from "../core/check-kind.js";
import { problemNotes } from "../core/json-problem.js";
import type { Note } from "../core/notes.js";
import { type FileKind, unknownKeys } from "../core/schema-problems.js";
import { type Profile, profileSchema } from "./profile-schema.js";

/** What a profile is called in errors. */
const PROFILE_KIND: FileKind = Object.freeze({
  kind: "faultglow/profile",
  version: 1,
  name: "a healthy profile",
  kindCode: "E_PROFILE_KIND",
  valueCode: "E_PROFILE_VALUE",
});

/** Parse a healthy profile, as `compare --healthy … --out` writes it.
 *  @param file name of the file, for errors and notes.
 *  @throws ToolError E_PROFILE_KIND or E_PROFILE_VALUE; the message lists up to three problems.
 */
export function parseProfile(value: unknown, file: string): { profile: Profile; notes: Note[] } {
  const listAll = "Make the profile anew from findings of healthy boards";
  const profile = checkKind(value, PROFILE_KIND, profileSchema, { file }, listAll);
  return { profile, notes: problemNotes(unknownKeys(value, profileSchema), file) };
}
