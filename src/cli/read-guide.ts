// cli: the name of a page of the guide → its text.
import { readFile } from "node:fs/promises";
import type { GuidePage } from "./guide-command.js";

/** Read a page. The guide is not built: sources and build, clone and package have it in the one place to which the
 *  README links. */
export function readGuide(page: GuidePage): Promise<string> {
  return readFile(new URL(`../../src/guide/${page}.md`, import.meta.url), "utf8");
}
