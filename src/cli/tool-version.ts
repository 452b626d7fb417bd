// cli: package.json → the version of this tool.
import { readFileSync } from "node:fs";

/** Read the version from the package's own description, two folders up both in the sources and in the build. */
export function toolVersion(): string {
  const text = readFileSync(new URL("../../package.json", import.meta.url), "utf8");
  return String((JSON.parse(text) as { version: unknown }).version);
}
