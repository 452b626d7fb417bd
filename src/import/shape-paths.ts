// import: one shape of a drawing → its subpaths in the drawing's own units.
import type { Point } from "../board/polygon.js";
import { ToolError } from "../core/errors.js";
import { MM_PER_UNIT } from "./import-options.js";
import { parsePath, type Segment, type Subpath } from "./parse-path.js";
import type { DrawingElement } from "./parse-xml-tree.js";
import { lengthMm } from "./svg-length.js";
import { numbersOf } from "./svg-transform.js";

/** Elements that draw an area. */
export const SHAPES: readonly string[] = ["path", "rect", "circle", "ellipse", "polygon", "polyline"];

/** Make subpaths of a shape (SVG 2, chapters 9 and 10).
 *  @returns none for a shape that SVG does not draw, such as a rectangle without width.
 *  @throws ToolError E_SVG_VALUE with line and column for a value that can't be read. */
export function shapePaths(shape: DrawingElement, file: string): readonly Subpath[] {
  switch (shape.name) {
    case "path":
      return pathOf(shape, file);
    case "rect":
      return rectOf(shape, file);
    case "circle": {
      const r = lengthOf(shape, "r", file) ?? 0;
      return ellipse(shape, r, r, file);
    }
    case "ellipse": {
      const [rx, ry] = [lengthOf(shape, "rx", file), lengthOf(shape, "ry", file)];
      return ellipse(shape, rx ?? ry ?? 0, ry ?? rx ?? 0, file);
    }
    default:
      return polygonOf(shape, file);
  }
}

/** An error about a value of an element. */
export function badValue(element: DrawingElement, problem: string, fix: string, file: string): ToolError {
  return new ToolError("E_SVG_VALUE", { problem, fix, place: { file, ...element.place } });
}

function pathOf(shape: DrawingElement, file: string): readonly Subpath[] {
  const data = shape.attributes["d"] ?? "";
  if (data.trim() === "none") return [];
  const subpaths = parsePath(data);
  if (!("offset" in subpaths)) return subpaths;
  const found = data.slice(subpaths.offset, subpaths.offset + 20);
  throw badValue(
    shape,
    `${subpaths.expected} was expected in the data of a path at letter ${subpaths.offset + 1}, found ` +
      (found === "" ? "its end" : `"${found}"`),
    "Save the drawing anew, or draw this shape anew",
    file,
  );
}

function rectOf(shape: DrawingElement, file: string): readonly Subpath[] {
  const length = (name: string): number | null => lengthOf(shape, name, file);
  const [x, y] = [length("x") ?? 0, length("y") ?? 0];
  const [width, height] = [length("width") ?? 0, length("height") ?? 0];
  if (!(width > 0 && height > 0)) return [];
  const [givenX, givenY] = [length("rx"), length("ry")];
  const rx = Math.min(givenX ?? givenY ?? 0, width / 2);
  const ry = Math.min(givenY ?? givenX ?? 0, height / 2);
  const [right, bottom] = [x + width, y + height];
  if (!(rx > 0 && ry > 0)) {
    return [{ start: [x, y], segments: [line(right, y), line(right, bottom), line(x, bottom)] }];
  }
  const corner = (to: Point): Segment => ({ to, radii: [rx, ry], turnDeg: 0, large: false, sweep: true });
  return [
    {
      start: [x + rx, y],
      segments: [
        line(right - rx, y),
        corner([right, y + ry]),
        line(right, bottom - ry),
        corner([right - rx, bottom]),
        line(x + rx, bottom),
        corner([x, bottom - ry]),
        line(x, y + ry),
        corner([x + rx, y]),
      ],
    },
  ];
}

function ellipse(shape: DrawingElement, rx: number, ry: number, file: string): readonly Subpath[] {
  if (!(rx > 0 && ry > 0)) return [];
  const [cx, cy] = [lengthOf(shape, "cx", file) ?? 0, lengthOf(shape, "cy", file) ?? 0];
  const half = (to: Point): Segment => ({ to, radii: [rx, ry], turnDeg: 0, large: false, sweep: true });
  return [{ start: [cx + rx, cy], segments: [half([cx - rx, cy]), half([cx + rx, cy])] }];
}

function polygonOf(shape: DrawingElement, file: string): readonly Subpath[] {
  const numbers = numbersOf(shape.attributes["points"] ?? "");
  if (numbers === null || numbers.length % 2 !== 0) {
    const found = numbers === null ? "something else" : `${numbers.length} numbers`;
    throw badValue(
      shape,
      `pairs of numbers were expected in points, found ${found}`,
      "Correct the points",
      file,
    );
  }
  if (numbers.length === 0) return [];
  const points = Array.from(
    { length: numbers.length / 2 },
    (_, i): Point => [numbers[2 * i]!, numbers[2 * i + 1]!],
  );
  return [{ start: points[0]!, segments: points.slice(1).map((to) => ({ to })) }];
}

function line(x: number, y: number): Segment {
  return { to: [x, y] };
}

/** A length in the drawing's units; a length with a unit counts by the pixel of CSS.
 *  @returns null where the attribute is missing or `auto`. */
function lengthOf(shape: DrawingElement, name: string, file: string): number | null {
  const text = shape.attributes[name]?.trim();
  if (text === undefined || text === "" || text === "auto") return null;
  const plain = Number(text);
  if (Number.isFinite(plain)) return plain;
  const mm = lengthMm(text);
  if (mm !== null) return mm / MM_PER_UNIT.px;
  throw badValue(
    shape,
    `a length was expected in ${name}, found "${text.slice(0, 40)}"`,
    "Write it as a number, or save the drawing anew without percentages",
    file,
  );
}
