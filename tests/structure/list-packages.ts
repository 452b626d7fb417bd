// The lock file → every package with its licence and what needs it. `npm run licences` prints the list.
import { readText } from "./project.js";

/** A package of the lock file. */
export interface LockedPackage {
  readonly name: string;
  readonly version: string;
  /** SPDX, as the package says of itself; null where it says nothing. */
  readonly licence: string | null;
  /** Installed with the tool; the others are for building and testing it. */
  readonly ships: boolean;
  readonly hasInstallScript: boolean;
  /** SHA-512 of the package. */
  readonly integrity: string | null;
  /** From the project's folder. */
  readonly path: string;
}

/** Read the lock file. */
export function lockedPackages(): LockedPackage[] {
  const { packages } = JSON.parse(readText("package-lock.json")) as {
    packages: Record<string, Record<string, unknown>>;
  };
  return Object.entries(packages)
    .filter(([path]) => path !== "")
    .map(([path, entry]) => ({
      name: path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length),
      version: String(entry["version"]),
      licence: typeof entry["license"] === "string" ? entry["license"] : null,
      ships: entry["dev"] !== true && entry["devOptional"] !== true,
      hasInstallScript: entry["hasInstallScript"] === true,
      integrity: typeof entry["integrity"] === "string" ? entry["integrity"] : null,
      path,
    }));
}
