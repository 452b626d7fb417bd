// page: a file with a map, a table or a drawing → the drawing with what was in it; and files of the drawing.

import type { BoardMap } from "../../board/board-schema.js";
import { parseBoardMap } from "../../board/parse-board-map.js";
import { countOf } from "../../core/count-of.js";
import { ToolError } from "../../core/errors.js";
import type { Note } from "../../core/notes.js";
import type { ImportOptions } from "../../import/import-options.js";
import { change, choose, type DrawSession } from "./draw-session.js";
import { addRegion } from "./model/change-regions.js";
import { type Drawing, drawingOf, mapOf } from "./model/drawing.js";
import { say } from "./say.js";

/** What is to become of a map that is brought. */
export type Taking = "all" | "regions";

/** Read a map, a centroid table or an SVG drawing.
 *  The readers of tables and drawings are loaded when they are asked for.
 *  @throws ToolError of `importBoard` or `parseBoardMap`. */
export async function readMap(
  bytes: Uint8Array,
  name: string,
  options: ImportOptions,
): Promise<{ board: BoardMap; notes: readonly Note[] }> {
  const json = jsonOf(bytes);
  if (json !== undefined) return parseBoardMap(json, name);
  const { importBoard } = await import("../../import/import-board.js");
  return importBoard(bytes, name, options);
}

/** Take a map into the drawing: in its place, or its regions alone. Regions whose ref is there already replace
 *  those. */
export function takeMap(session: DrawSession, map: BoardMap, taking: Taking, did: string): void {
  const { drawing } = session;
  const next = taking === "all" ? drawingOf(map, drawing.value) : withRegions(drawing.value, map);
  choose(session, []);
  change(session, next, did, null, `${did}: ${countOf(map.regions.length, "region")}`);
}

/** Save the drawing as a file: its map in JSON, or drawn as SVG. */
export async function exportMap(session: DrawSession, form: "json" | "svg"): Promise<void> {
  const map = mapOf(session.history.value.now.state);
  if (map.outline.length === 0) {
    say("There is no outline to export yet", true);
    return;
  }
  const text =
    form === "json"
      ? `${JSON.stringify(map, null, 2)}\n`
      : (await import("../../import/board-to-svg.js")).boardToSvg(map);
  const type = form === "json" ? "application/json" : "image/svg+xml";
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = `${fileName(map.name ?? "board")}.${form}`;
  link.click();
  // The browser has to begin with it before the address may go.
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
  say(`${link.download} is exported`);
}

function withRegions(drawing: Drawing, map: BoardMap): Drawing {
  const brought = new Set(map.regions.map(({ ref }) => ref));
  let next: Drawing = {
    ...drawing,
    // A drawing without an outline takes that of the map.
    outline: drawing.outline.length > 0 ? drawing.outline : map.outline,
    regions: drawing.regions.filter(({ ref }) => !brought.has(ref)),
  };
  for (const { polygon, side, ...fields } of map.regions)
    next = addRegion(next, polygon, side, fields).drawing;
  return next;
}

function jsonOf(bytes: Uint8Array): unknown {
  // A table or drawing never begins with a brace.
  const head = new TextDecoder().decode(bytes.subarray(0, 64)).replace("\ufeff", "").trimStart();
  if (!head.startsWith("{")) return undefined;
  try {
    return JSON.parse(new TextDecoder().decode(bytes));
  } catch {
    throw new ToolError("E_JSON_SYNTAX", {
      problem: "the file begins as JSON does, but is not valid JSON",
      fix: "Give a board map in JSON, a centroid table or an SVG drawing",
    });
  }
}

function fileName(name: string): string {
  return (
    name
      .trim()
      .replace(/[^\p{L}\p{N}._-]+/gu, "-")
      .replace(/^-+|-+$/g, "") || "board"
  );
}
