// import: the rows of a table → the row that names its columns, what each column holds, and in which unit.
import type { LengthUnit } from "./import-options.js";
import type { Row } from "./split-table.js";

/** What a column of a centroid table may hold. */
export type ColumnRole =
  | "ref"
  | "x"
  | "y"
  | "rotation"
  | "side"
  | "package"
  | "label"
  | "sizeX"
  | "sizeY"
  | "nets";

/** A column that was recognised. */
interface Column {
  readonly index: number;
  /** As its head says; null where it says nothing. */
  readonly unit: LengthUnit | null;
}

/** The head of a table. */
export interface TableHead {
  /** Index of the row of heads. */
  readonly row: number;
  readonly columns: Readonly<Partial<Record<ColumnRole, Column>>>;
  /** True if the side stands in a column "Mirror", where yes means below. */
  readonly mirror: boolean;
}

/** Heads by what they mean, without case, blanks and signs; earlier ones go before later ones. Common practice of the
 *  programs that export such tables, no source. The centre of the body goes before a corner or the first pin. */
const HEADS: Readonly<Record<ColumnRole, readonly string[]>> = Object.freeze({
  ref: [
    "ref",
    "refdes",
    "reference",
    "designator",
    "refdesignator",
    "referencedesignator",
    "refid",
    "part",
    "component",
    "comp",
    "name",
    "partref",
    "partreference",
    "id",
    "bauteil",
  ],
  x: [
    "x",
    "midx",
    "xmid",
    "centerx",
    "centrex",
    "xcenter",
    "xcentre",
    "centroidx",
    "xcentroid",
    "posx",
    "xpos",
    "positionx",
    "xposition",
    "locationx",
    "locx",
    "xloc",
    "xlocation",
    "coordx",
    "xcoord",
    "xcoordinate",
    "coordinatex",
    "symx",
    "placex",
    "refx",
    "xref",
  ],
  y: [],
  rotation: [
    "rotation",
    "rot",
    "angle",
    "orientation",
    "orient",
    "theta",
    "rotate",
    "drehung",
    "winkel",
    "r",
    "a",
  ],
  side: [
    "side",
    "layer",
    "tb",
    "face",
    "mountside",
    "boardside",
    "placementside",
    "mount",
    "mirror",
    "seite",
  ],
  package: [
    "package",
    "footprint",
    "pkg",
    "pattern",
    "case",
    "casesize",
    "casecode",
    "packagename",
    "footprintname",
    "packagetype",
    "decal",
    "shape",
    "geometry",
    "landpattern",
    "gehause",
    "gehäuse",
  ],
  label: [
    "value",
    "val",
    "comment",
    "description",
    "desc",
    "label",
    "partname",
    "partnumber",
    "mpn",
    "partno",
    "devicename",
    "device",
    "wert",
  ],
  sizeX: ["bodyx", "sizex", "xsize", "width", "bodywidth"],
  sizeY: ["bodyy", "sizey", "ysize", "length", "bodylength", "height"],
  nets: ["nets", "net", "netnames"],
});

/** y is named as x is. */
const HEADS_OF_Y = HEADS.x.map((head) => head.replace(/x(?!.*x)/, "y"));

/** Lines looked through for the heads: titles and remarks before them are short. */
const HEAD_LINES = 200;

const UNIT_WORDS: readonly (readonly [RegExp, LengthUnit])[] = [
  [/^(?:mm|millimet(?:er|re)s?)$/, "mm"],
  [/^(?:mils?|th|thou)$/, "mil"],
  [/^(?:in|inch|inches)$/, "inch"],
  [/^(?:um|µm|μm|microns?)$/, "um"],
];

/** Read a word as a unit of length.
 *  @returns null for any other word. */
export function lengthUnitOf(word: string): LengthUnit | null {
  const plain = word.trim().toLowerCase();
  return UNIT_WORDS.find(([pattern]) => pattern.test(plain))?.[1] ?? null;
}

/** Find the row that names the columns: the first with a head for ref, x and y.
 *  @returns null if none does. */
export function findColumns(rows: readonly Row[]): TableHead | null {
  for (let row = 0; row < Math.min(rows.length, HEAD_LINES); row++) {
    const heads = rows[row]!.cells.map((cell) => readHead(cell.text));
    const columns: Partial<Record<ColumnRole, Column>> = {};
    const taken = new Set<number>();
    for (const role of Object.keys(HEADS) as ColumnRole[]) {
      const names = role === "y" ? HEADS_OF_Y : HEADS[role];
      const column = bestColumn(heads, names, taken);
      if (column === null) continue;
      columns[role] = column;
      taken.add(column.index);
    }
    if (columns.ref && columns.x && columns.y) {
      return {
        row,
        columns,
        mirror: columns.side !== undefined && heads[columns.side.index]!.name === "mirror",
      };
    }
  }
  return null;
}

interface Head {
  readonly name: string;
  readonly unit: LengthUnit | null;
}

/** "Center-X (mm)", "PosX[mil]", "X_mm" and "# Ref" by their name and unit. */
function readHead(text: string): Head {
  const words = text
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .toLowerCase()
    .split(/[^\p{L}\p{N}µ]+/u)
    .filter((word) => word !== "");
  const last = words.length > 1 ? lengthUnitOf(words[words.length - 1]!) : null;
  const name = (last === null ? words : words.slice(0, -1)).filter((word) => !/^deg(?:rees?)?$/.test(word));
  return { name: name.join(""), unit: last };
}

function bestColumn(
  heads: readonly Head[],
  names: readonly string[],
  taken: ReadonlySet<number>,
): Column | null {
  for (const name of names) {
    const index = heads.findIndex((head, i) => head.name === name && !taken.has(i));
    if (index >= 0) return { index, unit: heads[index]!.unit };
  }
  return null;
}
