// watch: the name of a frame's file → whether it is baseline or powered.
import { nameMatcher } from "../read/match-glob.js";
import type { Role } from "./watched-frame.js";

/** Patterns that names are told by. */
export interface NamePatterns {
  readonly baseline?: string | undefined;
  readonly powered?: string | undefined;
}

/** Words in names of files and folders, between signs or a change from letters to digits (common practice, no
 *  source). */
const WORDS: Readonly<Record<Role, readonly string[]>> = Object.freeze({
  baseline: ["baseline", "base", "off", "unpowered", "cold", "before", "dark", "reference", "ref", "idle"],
  powered: ["powered", "power", "on", "hot", "after", "burst", "live", "short", "heat", "run"],
});

/** Tell the role of a frame by its name. With one pattern, all that does not fit it has the other role; with two, what
 *  fits none or both is not told; with none, words in the name tell, the last folder or file that has one.
 *  A pattern with / is held against the whole name from the watched folder, another one against the file's own.
 *  @param name from the watched folder, with `/`.
 *  @returns null where the name does not tell. */
export function tellRole(name: string, patterns: NamePatterns = {}): Role | null {
  const { baseline, powered } = patterns;
  if (baseline === undefined && powered === undefined) return roleByWords(name);
  const isBaseline = baseline === undefined ? null : fits(name, baseline);
  const isPowered = powered === undefined ? null : fits(name, powered);
  if (isBaseline === isPowered) return null;
  if (isPowered === null) return isBaseline ? "baseline" : "powered";
  if (isBaseline === null) return isPowered ? "powered" : "baseline";
  return isBaseline ? "baseline" : "powered";
}

function fits(name: string, pattern: string): boolean {
  const parts = pattern.split("/");
  const names = name.split("/");
  if (parts.length === 1) return nameMatcher(pattern)(names[names.length - 1]!);
  return parts.length === names.length && parts.every((part, i) => nameMatcher(part)(names[i]!));
}

function roleByWords(name: string): Role | null {
  const parts = name
    .replace(/\.[A-Za-z]+$/, "")
    .split("/")
    .reverse();
  for (const part of parts) {
    const words = part
      .replace(/([a-z])([A-Z])/g, "$1 $2")
      .toLowerCase()
      .split(/[^a-z]+/);
    const says = (role: Role): boolean => words.some((word) => WORDS[role].includes(word));
    if (says("baseline") !== says("powered")) return says("baseline") ? "baseline" : "powered";
  }
  return null;
}
