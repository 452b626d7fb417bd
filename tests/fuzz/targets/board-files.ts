// fuzz: parts of a board → centroid tables and SVG drawings in many styles, whole and damaged.
import { checkBoard } from "../../../src/board/check-board.js";
import { importBoard } from "../../../src/import/import-board.js";
import type { Random } from "../../simulate/random.js";
import type { FuzzTarget } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";

/** A part by its place in mm with y up from the lower left corner of a board of 40 × 26 mm. */
interface Part {
  readonly ref: string;
  readonly x: number;
  readonly y: number;
  readonly turn: 0 | 90 | 180 | 270;
  readonly side: "top" | "bottom";
  /** 1 × 0.5 mm and 3.9 × 4.9 mm. */
  readonly body: "0402" | "SOIC-8";
}

const OUTLINE = { widthMm: 40, heightMm: 26 };
const TABLE_SOUP = [
  "Ref,X,Y,Rot,Side,Package\n", "Ref", "X", "Y (mm)", ",", ";", "\t", "|", " ", "\n", "\r\n", '"', "C1", "U2", "FID1", "1.5", "2,5", "-3e2", "1e999", "0402", "QFN_5x5mm", "top", "B", "mil", "°", "#", "Unit: inch", "\ufeff", "\u0000", "\u202e",
]; // biome-ignore format: a list to be read across
const DRAWING_SOUP = [
  '<svg width="40mm" height="26mm" viewBox="0 0 40 26">', "</svg>", "<g id='top'>", "</g>", '<rect id="outline" width="40" height="26"/>', '<rect id="U1" x="2" y="3" width="5" height="4"/>', '<path id="C1" d="', "M1 1h3v2z", "A1 2 30 1 0 9 9", "c1 2 3 4 5 6", "T9", '"/>', '<polygon id="Q1" points="', "1,2 5,2 3,7", "NaN", ' transform="', "rotate(30)", "scale(0)", "matrix(1 0 0 1 1e308 1e308)", '"', "<!--", "-->", "&amp;", "&x;", "<![CDATA[", "]]>", "<!DOCTYPE svg [<!ENTITY a 'b'>]>", '<use href="#U1"/>', "style='fill:url(file:///etc/passwd)'",
]; // biome-ignore format: a list to be read across

/** Centroid tables. */
export const centroidTables: FuzzTarget = {
  name: "centroids",
  make: (random) => {
    const parts = makeParts(random);
    const turn = random.integer(0, 4);
    if (turn <= 1) {
      return {
        what: "a whole table",
        bytes: bytesOf(tableOf(random, parts)),
        expected: { sort: "equal", value: placesOf(parts) },
      };
    }
    if (turn === 2) {
      const text = tableOf(random, parts);
      const first = parts[0]!;
      const broken = text.replace(new RegExp(`(?<=${first.ref}"?.*?)${first.x}`.replace(".", "\\.")), "12x5");
      if (broken !== text)
        return { what: "a place that is no number", bytes: bytesOf(broken), expected: { sort: "refused" } };
    }
    if (turn === 3)
      return {
        what: "bytes changed",
        bytes: mutateBytes(random, bytesOf(tableOf(random, parts))),
        expected: { sort: "any" },
      };
    return { what: "a soup of pieces", bytes: bytesOf(soup(random, TABLE_SOUP)), expected: { sort: "any" } };
  },
  read: (bytes) => readBoard(bytes, "f.csv"),
};

/** SVG drawings of boards. */
export const boardDrawings: FuzzTarget = {
  name: "svg",
  make: (random) => {
    const parts = makeParts(random);
    const turn = random.integer(0, 3);
    if (turn <= 1) {
      return {
        what: "a whole drawing",
        bytes: bytesOf(drawingOf(random, parts)),
        expected: { sort: "equal", value: placesOf(parts) },
      };
    }
    if (turn === 2)
      return {
        what: "bytes changed",
        bytes: mutateBytes(random, bytesOf(drawingOf(random, parts))),
        expected: { sort: "any" },
      };
    const whole = random.chance(0.5);
    const body = soup(random, DRAWING_SOUP);
    const text = whole ? `<svg><rect id="outline" width="400" height="260"/>${body}</svg>` : body;
    return { what: "a soup of pieces", bytes: bytesOf(text), expected: { sort: "any" } };
  },
  read: (bytes) => readBoard(bytes, "f.svg"),
};

function readBoard(bytes: Uint8Array, file: string): unknown {
  const { board, notes } = importBoard(bytes, file, { outline: file.endsWith(".csv") ? OUTLINE : undefined });
  const wrong = checkBoard(board).find(({ severity }) => severity === "error");
  // A size that no board has is a note of the import, whose unit may still be told, and an error of the map.
  const isDoubted = notes.some(
    ({ code, text }) => code === "N_BOARD_DOUBT" && text.includes(wrong?.text ?? ""),
  );
  if (wrong !== undefined && !isDoubted) throw new Error(`the map that was made is none: ${wrong.text}`);
  return board.regions
    .map(({ ref, side, polygon }) => {
      const [xs, ys] = [polygon.map(([x]) => x), polygon.map(([, y]) => y)];
      // Hundredths of a millimetre: what the styles of writing keep.
      const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)].map(
        (mm) => Math.round(mm * 100) / 100,
      );
      return { ref, side, box };
    })
    .sort((a, b) => (a.ref < b.ref ? -1 : 1));
}

function placesOf(parts: readonly Part[]): unknown {
  return parts
    .map((part) => ({ ref: part.ref, side: part.side, box: boxOf(part) }))
    .sort((a, b) => (a.ref < b.ref ? -1 : 1));
}

/** In board coordinates, y down. */
function boxOf({ x, y, turn, body }: Part): number[] {
  const size = body === "0402" ? [1, 0.5] : [3.9, 4.9];
  const [w, h] = turn % 180 === 0 ? size : [...size].reverse();
  return [x - w! / 2, 26 - y - h! / 2, x + w! / 2, 26 - y + h! / 2].map((mm) => Math.round(mm * 100) / 100);
}

/** One part in each of up to eight cells of the board, so that none covers another. */
function makeParts(random: Random): Part[] {
  return Array.from({ length: random.integer(1, 8) }, (_, i) => {
    const body = random.pick(["0402", "SOIC-8"] as const);
    return {
      ref: `${body === "0402" ? "C" : "U"}${i + 1}`,
      x: 5 + 10 * (i % 4) + random.integer(-4, 4) / 4,
      // With halves and quarters every unit keeps hundredths of a millimetre.
      y: 6 + 12 * Math.floor(i / 4) + random.integer(-3, 3) / 4,
      turn: random.pick([0, 90, 180, 270] as const),
      side: random.pick(["top", "bottom"] as const),
      body,
    };
  });
}

function tableOf(random: Random, parts: readonly Part[]): string {
  const separator = random.pick([",", ";", "\t", "|"]);
  const mil = random.chance(0.3);
  const comma = separator !== "," && random.chance(0.3);
  const quoted = random.chance(0.3);
  const number = (mm: number): string => {
    const text = mil ? (mm / 0.0254).toFixed(3) : String(mm);
    return comma ? text.replace(".", ",") : text;
  };
  const heads = random.pick([
    ["Designator", "Center-X", "Center-Y", "Rotation", "Layer", "Footprint"],
    ["Ref", "PosX", "PosY", "Rot", "Side", "Package"],
    ["RefDes", "X", "Y", "Angle", "Side", "Package"],
  ]);
  const unit = mil ? "mil" : "mm";
  const named = heads.map((head, i) => (i === 1 || i === 2 ? `${head} (${unit})` : head));
  const rows = parts.map((part) => [
    part.ref,
    number(part.x),
    number(part.y),
    String(part.turn),
    part.side,
    part.body,
  ]);
  const lines = [named, ...rows].map((cells) =>
    cells.map((cell) => (quoted ? `"${cell}"` : cell)).join(separator),
  );
  return (
    (random.chance(0.2) ? "\ufeff" : "") + lines.join(random.pick(["\n", "\r\n"])) + random.pick(["", "\n"])
  );
}

function drawingOf(random: Random, parts: readonly Part[]): string {
  const quote = random.pick(['"', "'"]);
  const blank = (): string => random.pick(["", "", " ", "\n", "<!-- a remark > of mine -->"]);
  const attribute = (name: string, value: string | number): string => ` ${name}=${quote}${value}${quote}`;
  const shapeOf = (part: Part): string => {
    const [left, top, right, bottom] = boxOf(part) as [number, number, number, number];
    const head = attribute("id", part.ref) + attribute("data-side", part.side);
    switch (random.integer(0, 3)) {
      case 0:
        return `<rect${head}${attribute("x", left)}${attribute("y", top)}${attribute("width", right - left)}${attribute("height", bottom - top)}/>`;
      case 1:
        return `<polygon${head}${attribute("points", `${left},${top} ${right},${top} ${right} ${bottom} ${left},${bottom}`)}/>`;
      case 2:
        return `<path${head}${attribute("d", `M${left} ${top}H${right}V${bottom}H${left}z`)}/>`;
      default:
        return `<g${attribute("transform", `translate(${left} ${top})`)}><rect${head}${attribute("width", right - left)}${attribute("height", bottom - top)}></rect></g>`;
    }
  };
  const shapes = parts.map((part) => blank() + shapeOf(part)).join("");
  const prefix = random.chance(0.3) ? '<?xml version="1.0"?>\n' : "";
  return `${prefix}<svg xmlns="http://www.w3.org/2000/svg" width="40mm" height="26mm" viewBox="0 0 40 26">${blank()}<rect id="outline" width="40" height="26"/>${shapes}${blank()}</svg>`;
}

function soup(random: Random, pieces: readonly string[]): string {
  return Array.from({ length: random.integer(0, 40) }, () => random.pick(pieces)).join("");
}

function bytesOf(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
