// compare: two findings → what they can be compared by, or an error that says why they can't be.
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import type { Findings } from "../findings/findings-schema.js";
import type { BoardIdentity, PartFindings } from "../findings/parts-schema.js";
import { placeKey } from "./part-place.js";

/** Findings that know their board and say something of each part. */
export interface BoardFindings extends Findings {
  readonly board: BoardIdentity;
  readonly parts: PartFindings[];
}

/** Parts named in a note. */
const MOST_NAMED = 6;

/** True if findings know their board and its parts. */
export function knowsBoard(findings: Findings): findings is BoardFindings {
  return (findings.board ?? null) !== null && findings.parts !== undefined;
}

/** Check that two findings are of one board, or, if neither knows a board, of one frame.
 *  @returns notes on what differs in the map.
 *  @throws ToolError E_FINDINGS_PARTS if one knows its board and the other does not, E_COMPARE_BOARD if the outlines
 *  differ, E_COMPARE_FRAME if without a board the frames differ in size.
 */
export function checkComparable(
  before: Findings,
  after: Findings,
  files: readonly [string | null, string | null],
): Note[] {
  const known = [before, after].map(knowsBoard);
  if (known[0] !== known[1]) throw partsError(files[known[0] ? 1 : 0]!);
  if (!knowsBoard(before) || !knowsBoard(after)) return checkFrames(before, after, files);
  if (before.board.outline !== after.board.outline) throw boardError(before.board, after.board, files[1]);
  return before.board.parts === after.board.parts ? [] : mapNotes(before.parts, after.parts);
}

/** @param file the findings in question. */
export function partsError(file: string | null): ToolError {
  return new ToolError("E_FINDINGS_PARTS", {
    problem: "expected findings of a board that is known, found some that say nothing of its parts",
    fix: "Run faultglow find again on the same frames, with --board and --view",
    place: { file: file ?? undefined },
  });
}

/** @param file the findings that differ from the first ones. */
export function boardError(first: BoardIdentity, other: BoardIdentity, file: string | null): ToolError {
  const names = [first.name, other.name].map((name) => (name === null ? "one without a name" : `"${name}"`));
  return new ToolError("E_COMPARE_BOARD", {
    problem: `expected findings of one board, found outlines that differ: ${names[0]}, then ${names[1]}`,
    fix: "Compare attempts on the same board; if it is the same one, run faultglow find for both with one map",
    place: { file: file ?? undefined },
  });
}

function checkFrames(
  before: Findings,
  after: Findings,
  files: readonly [string | null, string | null],
): Note[] {
  const [a, b] = [before.inputs.baseline[0], after.inputs.baseline[0]];
  if (a?.width !== b?.width || a?.height !== b?.height) {
    throw new ToolError("E_COMPARE_FRAME", {
      problem: `without a board only frames of one size can be compared, found ${a?.width}×${a?.height} and ${b?.width}×${b?.height}`,
      fix: "Run faultglow find for both with --board and --view",
      place: { file: files[1] ?? undefined },
    });
  }
  return [
    note(
      "N_PIXELS_COMPARED",
      "No board is known: hotspots were matched in pixels, as if the camera had not moved between the attempts. Give find a board map and a view to compare parts.",
    ),
  ];
}

function mapNotes(before: readonly PartFindings[], after: readonly PartFindings[]): Note[] {
  const [first, second] = [new Set(before.map(placeKey)), new Set(after.map(placeKey))];
  const alone = [
    ...before.filter((p) => !second.has(placeKey(p))),
    ...after.filter((p) => !first.has(placeKey(p))),
  ];
  const named = alone.slice(0, MOST_NAMED).map(({ ref }) => ref);
  const more = alone.length > named.length ? ` and ${alone.length - named.length} more` : "";
  const which =
    alone.length === 0
      ? "some parts were drawn anew"
      : `${named.join(", ")}${more} ${alone.length === 1 ? "is" : "are"} on one of the maps alone, and unsure`;
  return [note("N_MAP_CHANGED", `The attempts were made with different versions of the map: ${which}.`)];
}
