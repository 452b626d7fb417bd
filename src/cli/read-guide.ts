// cli: the name of a page of the guide → its text.
import { readFile } from "node:fs/promises";
import type { GuidePage } from "./guide-command.js";

/** Read a page; it lies in the folder beside this one, in the sources and in the build. */
export function readGuide(page: GuidePage): Promise<string> {
  return readFile(new URL(`../guide/${page}.md`, import.meta.url), "utf8");
}
