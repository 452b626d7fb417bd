// evaluate: kinds of scenes → those that the tool can be asked about today.
import { readFileSync } from "node:fs";
import type { Kind } from "../simulate/scene.js";

/** What the input of an analysis must have for a kind to be asked at all. */
const NEEDS: Partial<Record<Kind, string>> = { cycled: "cycleS", "two-sides": "otherSide" };

/** True if the tool's input has a place for what a scene of a kind brings. */
export function isSupported(kind: Kind): boolean {
  const field = NEEDS[kind];
  if (field === undefined) return true;
  const file = new URL("../../src/findings/analyse-options.ts", import.meta.url);
  return new RegExp(`readonly ${field}\\b`).test(readFileSync(file, "utf8"));
}
