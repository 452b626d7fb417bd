// import: parts with their packages → the body of each.
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import { assumed, listed } from "./import-notes.js";
import { IMPORT_DEFAULTS, type ImportOptions } from "./import-options.js";
import { isAmbiguousChip, isMetricChip, packageSize } from "./package-size.js";
import type { CentroidPart } from "./parse-centroids.js";

/** Body extents along x and y at no rotation. */
export interface Extents {
  readonly xMm: number;
  readonly yMm: number;
}

/** Find the body of each part: what its row says, else what its package says, else the default.
 *  @returns extents in the order of the parts; notes on sizes that were guessed.
 *  @throws ToolError E_IMPORT_PACKAGE with all packages that nothing tells the size of, unless there is a default. */
export function sizeParts(
  parts: readonly CentroidPart[],
  options: ImportOptions,
  file: string,
): { of: Extents[]; notes: Note[] } {
  const { chipCodes = IMPORT_DEFAULTS.chipCodes, sizes = {}, defaultSize } = options;
  const unknown = new Map<string, CentroidPart[]>();
  const ambiguous = new Set<string>();
  const known = new Map<string, Extents | null>();
  const of = parts.map((part): Extents => {
    if (part.sizeMm !== null) return part.sizeMm;
    const name = part.packageName;
    let size = known.get(name);
    if (size === undefined) {
      size = packageSize(name, chipCodes, sizes);
      known.set(name, size);
      if (options.chipCodes === undefined && size !== null && isAmbiguousChip(name)) ambiguous.add(name);
    }
    if (size !== null) return size;
    unknown.set(name, [...(unknown.get(name) ?? []), part]);
    return { xMm: defaultSize?.widthMm ?? 0, yMm: defaultSize?.heightMm ?? 0 };
  });
  if (unknown.size > 0 && defaultSize === undefined) throw unknownPackages(unknown, file);
  const notes: Note[] = [];
  if (unknown.size > 0) {
    const size = `${defaultSize!.widthMm} × ${defaultSize!.heightMm} mm`;
    notes.push(
      assumed(file, `the size of ${packageList(unknown)} is not known; ${size} was taken as you said`),
    );
  }
  // Alone such codes are imperial ones; beside codes that are metric only they may well be metric too.
  const metric = [...known.keys()].find((name) => isMetricChip(name));
  if (ambiguous.size > 0 && metric !== undefined) {
    const names = listed([...ambiguous].map((name) => `"${name}"`));
    notes.push(
      assumed(
        file,
        `${names} could be metric codes, as "${metric}" is; read as imperial ones. Say which with --chip-codes`,
      ),
    );
  }
  return { of, notes };
}

function unknownPackages(unknown: ReadonlyMap<string, readonly CentroidPart[]>, file: string): ToolError {
  const first = [...unknown.values()][0]![0]!;
  return new ToolError("E_IMPORT_PACKAGE", {
    problem: `the body size of ${unknown.size === 1 ? "one package is" : `${unknown.size} packages are`} not known: ${packageList(unknown)}`,
    fix: 'Give the size of each with --size "NAME=WxH", or one for all of them with --default-size WxH, in mm',
    place: { file, line: first.place.line },
  });
}

function packageList(unknown: ReadonlyMap<string, readonly CentroidPart[]>): string {
  return listed(
    [...unknown].map(([name, parts]) => {
      const refs = listed(
        parts.map((part) => part.ref),
        5,
      );
      return `${name === "" ? "no package" : `"${name.slice(0, 60)}"`} (${refs})`;
    }),
  );
}
