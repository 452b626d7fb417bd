// import: an SVG drawing of a board → a board map.

import type { BoardMap, Region } from "../board/board-schema.js";
import { boundsOf, type Point, signedArea } from "../board/polygon.js";
import { countOf } from "../core/count-of.js";
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { collectShapes, type DrawnShape, type DrawnShapes } from "./collect-shapes.js";
import { finishImport } from "./finish-import.js";
import { outlineCorners } from "./given-outline.js";
import { assumed, listed } from "./import-notes.js";
import { IMPORT_DEFAULTS, type ImportedBoard, type ImportOptions } from "./import-options.js";
import { type DrawingElement, parseXmlTree } from "./parse-xml-tree.js";
import { refOfShape, regionOfShape } from "./region-of-shape.js";
import { badValue } from "./shape-paths.js";
import { userUnit } from "./svg-length.js";
import { textOfAttribute } from "./svg-text.js";

/** Ids that an outline is looked for by, without case, blanks and signs (common practice, no source). */
const OUTLINE_IDS: readonly string[] = [
  "outline",
  "boardoutline",
  "board",
  "edge",
  "edgecuts",
  "boardedge",
  "profile",
  "pcb",
];

/** Make a board map of an SVG drawing: every shape with a name becomes a region. Board coordinates are the drawing's
 *  own in mm, from the origin of its units, whatever the viewBox shows of them.
 *  A name is the attribute `data-ref`, the id, or the id of a group that is named like a part; the side is `data-side`
 *  of the shape or the id of a group; `data-label`, `data-kind`, `data-finish`, `data-emissivity`, `data-nets` and
 *  `data-normally-warm` fill the other fields.
 *  @param options.outline id of the outline's shape or group; else a shape or group called outline, board, edge …
 *  @throws ToolError E_SVG_SYNTAX, E_SVG_VALUE, E_IMPORT_OUTLINE, E_IMPORT_LARGE, what `checkBoard` finds; with line
 *    and column of the element. */
export function importSvg(text: string, file: string, options: ImportOptions = {}): ImportedBoard {
  const root = parseXmlTree(text, file);
  if (root.name !== "svg") {
    throw new ToolError("E_SVG_SYNTAX", {
      problem: `an svg element was expected, found ${root.name.slice(0, 40)}`,
      fix: "Check that this is the right file",
      place: { file, ...root.place },
    });
  }
  const unit = userUnit(root.attributes, options.unit);
  if (unit === null) {
    throw badValue(
      root,
      "a size above 0 and a viewBox of four numbers were expected",
      "Correct width, height and viewBox of the drawing, or save it anew",
      file,
    );
  }
  const drawn = collectShapes(
    root,
    [unit.xMm, 0, 0, unit.yMm, 0, 0],
    options.toleranceMm ?? IMPORT_DEFAULTS.toleranceMm,
    file,
  );
  const { outline, used } = findOutline(drawn.shapes, options.outline, file);
  const bounds = boundsOf(outline);
  const named = nameShapes(drawn.shapes.filter((shape) => !used.has(shape)));
  const regions = named.parts.map(({ ref, shape }) =>
    regionOfShape(shape, ref, polygonOf(shape, bounds.minX + bounds.maxX, options), file),
  );
  const finished = finishImport(
    { ...mapFields(root, file), outline: outline.map(([x, y]) => [x, y]), regions },
    named.parts.map(({ shape }) => shape.element.place),
    file,
  );
  const notes: Note[] = [];
  if (!unit.stated) {
    notes.push(
      assumed(
        file,
        "the drawing has no size in mm; its units were read as millimetres. Say which with --unit",
      ),
    );
  }
  if (named.parts.length > 0 && named.parts.every(({ shape }) => shape.side === null)) {
    notes.push(assumed(file, "no group or shape tells a side; all parts were taken to be on top"));
  }
  notes.push(...leftOutNotes(drawn, named, file), ...finished.notes);
  return { board: finished.board, notes, from: "svg" };
}

function findOutline(
  shapes: readonly DrawnShape[],
  wanted: ImportOptions["outline"],
  file: string,
): { outline: readonly Point[]; used: ReadonlySet<DrawnShape> } {
  const plain = (id: string): string => id.toLowerCase().replace(/[^a-z0-9]/g, "");
  const idsOf = (shape: DrawnShape): string[] =>
    [...shape.groups.slice(1), shape.element].flatMap(({ attributes }) => attributes["id"] ?? []);
  const isOutline = (shape: DrawnShape): boolean =>
    typeof wanted === "string"
      ? idsOf(shape).includes(wanted)
      : shape.element.attributes["data-role"] === "outline" ||
        (shape.element.attributes["data-ref"] === undefined &&
          idsOf(shape).some((id) => OUTLINE_IDS.includes(plain(id))));
  const used = new Set(shapes.filter(isOutline));
  if (wanted !== undefined && typeof wanted !== "string") return { outline: outlineCorners(wanted), used };
  const stated = [...used].find((shape) => shape.element.attributes["data-role"] === "outline");
  const area = (shape: DrawnShape): number => Math.abs(signedArea(shape.polygon));
  const largest = stated ?? [...used].sort((a, b) => area(b) - area(a))[0];
  if (largest !== undefined) return { outline: largest.polygon, used };
  const ids = listed(shapes.flatMap(({ element }) => element.attributes["id"]?.slice(0, 40) ?? []));
  throw new ToolError("E_IMPORT_OUTLINE", {
    problem:
      typeof wanted === "string"
        ? `a closed shape "${wanted.slice(0, 60)}" was expected for the outline, found ${ids === "" ? "no ids" : ids}`
        : 'a closed shape with the id "outline" was expected, found none',
    fix: "Give the id of the board's edge with --outline ID, or its size with --outline WxH in mm",
    place: { file },
  });
}

interface NamedShapes {
  readonly parts: readonly { readonly ref: string; readonly shape: DrawnShape }[];
  readonly nameless: number;
  /** Names that several shapes of one group share; the largest was kept. */
  readonly reduced: readonly string[];
}

/** One shape for each name that comes from a group; shapes with names of their own are kept all, for two parts of one
 *  name are a mistake that has to be seen. */
function nameShapes(shapes: readonly DrawnShape[]): NamedShapes {
  const parts: { ref: string; shape: DrawnShape }[] = [];
  const fromGroup = new Map<string, number>();
  const reduced = new Set<string>();
  let nameless = 0;
  for (const shape of shapes) {
    const ref = refOfShape(shape);
    if (ref === null) {
      nameless++;
      continue;
    }
    const { attributes } = shape.element;
    const own = attributes["data-ref"] !== undefined || attributes["id"] !== undefined;
    const before = own ? undefined : fromGroup.get(ref);
    if (before === undefined) {
      if (!own) fromGroup.set(ref, parts.length);
      parts.push({ ref, shape });
    } else {
      reduced.add(ref);
      if (Math.abs(signedArea(shape.polygon)) > Math.abs(signedArea(parts[before]!.shape.polygon))) {
        parts[before] = { ref, shape };
      }
    }
  }
  return { parts, nameless, reduced: [...reduced] };
}

function polygonOf(shape: DrawnShape, sumX: number, options: ImportOptions): Region["polygon"] {
  const bottomX = shape.side === "bottom" ? (options.bottomX ?? IMPORT_DEFAULTS.bottomX) : "same";
  return shape.polygon.map(([x, y]): [number, number] => {
    if (bottomX === "same") return [x, y];
    return [(bottomX === "negated" ? 0 : sumX) - x, y];
  });
}

/** What belongs to the whole map: written by `boardToSvg`, and by hand where somebody likes to. */
function mapFields(root: DrawingElement, file: string): Omit<BoardMap, "outline" | "regions"> {
  const name = root.attributes["data-name"];
  const thickness = root.attributes["data-thickness-mm"];
  const plate = root.attributes["data-plate"];
  let plateValue: BoardMap["plate"];
  try {
    plateValue = plate === undefined ? undefined : JSON.parse(plate);
  } catch {
    throw badValue(root, "JSON was expected in data-plate", "Correct it, or leave it away", file);
  }
  return {
    kind: "faultglow/board",
    version: 1,
    ...(name === undefined ? {} : { name: textOfAttribute(name) }),
    ...(thickness === undefined ? {} : { thicknessMm: Number(thickness) }),
    ...(plateValue === undefined ? {} : { plate: plateValue }),
  };
}

function leftOutNotes(drawn: DrawnShapes, named: NamedShapes, file: string): Note[] {
  const sentences: string[] = [];
  if (named.nameless > 0) sentences.push(`${countOf(named.nameless, "shape")} without a name`);
  if (named.reduced.length > 0) {
    sentences.push(`all but the largest shape of ${listed(named.reduced.map((ref) => ref.slice(0, 40)))}`);
  }
  const pieces = named.parts.filter(({ shape }) => shape.otherPieces > 0).map(({ ref }) => ref.slice(0, 40));
  if (pieces.length > 0) sentences.push(`holes and further pieces of ${listed(pieces)}`);
  for (const [name, n] of drawn.others) sentences.push(countOf(n, `${name} element`));
  if (sentences.length === 0) return [];
  return [note("N_IMPORT_LEFT_OUT", `${file}: left out: ${sentences.join("; ")}.`)];
}
