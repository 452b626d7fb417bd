// import: the tree of a drawing → its shapes as polygons in mm, with what their groups say of them.
import type { Region } from "../board/board-schema.js";
import { type Point, signedArea } from "../board/polygon.js";
import { refuseLarge } from "./finish-import.js";
import { flattenPath } from "./flatten-path.js";
import type { DrawingElement } from "./parse-xml-tree.js";
import { roundMm } from "./round-mm.js";
import { badValue, SHAPES, shapePaths } from "./shape-paths.js";
import { sideOfWord } from "./side-of-word.js";
import { type Affine, composeAffine, IDENTITY, parseTransform } from "./svg-transform.js";

/** A shape of a drawing. */
export interface DrawnShape {
  readonly element: DrawingElement;
  /** mm; the largest piece of the shape. */
  readonly polygon: readonly Point[];
  /** Pieces and holes beside the largest one. */
  readonly otherPieces: number;
  /** Groups around it, the outermost first. */
  readonly groups: readonly DrawingElement[];
  /** As the shape or the nearest group that speaks of it says. */
  readonly side: Region["side"] | null;
}

/** Shapes of a drawing, and what else it holds. */
export interface DrawnShapes {
  readonly shapes: readonly DrawnShape[];
  /** Names of elements that draw something but no area, or that stand for others, with how often they come. */
  readonly others: ReadonlyMap<string, number>;
}

const GROUPS: readonly string[] = ["svg", "g", "a", "switch"];
/** What is drawn and is no area, or is a copy. */
const OTHER_DRAWN: readonly string[] = ["use", "text", "image", "line", "foreignObject"];

/** Collect the shapes of a drawing through all groups and transforms. What is not shown (`display: none`, definitions)
 *  is left out.
 *  @param map from the drawing's units to mm.
 *  @throws ToolError E_SVG_VALUE, E_IMPORT_LARGE. */
export function collectShapes(
  root: DrawingElement,
  map: Affine,
  toleranceMm: number,
  file: string,
): DrawnShapes {
  const shapes: DrawnShape[] = [];
  const others = new Map<string, number>();
  let points = 0;
  const visit = (
    element: DrawingElement,
    outer: Affine,
    groups: readonly DrawingElement[],
    side: DrawnShape["side"],
  ): void => {
    if (isHidden(element)) return;
    if (OTHER_DRAWN.includes(element.name)) others.set(element.name, (others.get(element.name) ?? 0) + 1);
    const isGroup = GROUPS.includes(element.name);
    if (!isGroup && !SHAPES.includes(element.name)) return;
    const here = composeAffine(outer, ownTransform(element, file));
    const sideHere = statedSide(element, file) ?? (isGroup ? sideByName(element) : null) ?? side;
    if (isGroup) {
      const inner = element === root ? here : composeAffine(here, nestedViewport(element, file));
      for (const child of element.children) visit(child, inner, [...groups, element], sideHere);
      return;
    }
    const pieces = shapePaths(element, file)
      .map((subpath) => flattenPath(subpath, here, toleranceMm))
      .filter((piece) => piece.length > 2)
      .sort((a, b) => Math.abs(signedArea(b)) - Math.abs(signedArea(a)));
    const [polygon] = pieces;
    if (polygon === undefined) return;
    points += polygon.length;
    refuseLarge("points", points, file);
    // Corners that were written in mm keep every digit, so that a map comes back from a drawing as it was.
    const exact = element.name === "polygon" && here.every((value, i) => value === IDENTITY[i]);
    shapes.push({
      element,
      polygon: exact ? polygon : polygon.map(([x, y]): Point => [roundMm(x), roundMm(y)]),
      otherPieces: pieces.length - 1,
      groups,
      side: sideHere,
    });
    refuseLarge("parts", shapes.length, file);
  };
  visit(root, map, [], null);
  return { shapes, others };
}

function isHidden(element: DrawingElement): boolean {
  const { display, visibility, style = "" } = element.attributes;
  return (
    display === "none" ||
    visibility === "hidden" ||
    /(?:^|;)\s*(?:display\s*:\s*none|visibility\s*:\s*hidden)/i.test(style)
  );
}

function ownTransform(element: DrawingElement, file: string): Affine {
  const { transform, style = "" } = element.attributes;
  const origin = element.attributes["transform-origin"];
  if (origin !== undefined || /(?:^|;)\s*(?:transform|translate|rotate|scale)[\w-]*\s*:/i.test(style)) {
    throw badValue(
      element,
      "a transform was expected in the attribute transform alone, found one in the style or with an origin of its own",
      "Save the drawing as plain SVG, or apply the transform to the points",
      file,
    );
  }
  if (transform === undefined) return IDENTITY;
  const map = parseTransform(transform);
  if (map !== null) return map;
  throw badValue(
    element,
    `a list of matrix, translate, scale, rotate, skewX and skewY was expected in transform, found "${transform.slice(0, 60)}"`,
    "Correct it, or save the drawing anew",
    file,
  );
}

function nestedViewport(element: DrawingElement, file: string): Affine {
  if (element.name !== "svg") return IDENTITY;
  const { x = "0", y = "0", viewBox } = element.attributes;
  const [left, top] = [Number(x), Number(y)];
  if (viewBox === undefined && Number.isFinite(left) && Number.isFinite(top)) return [1, 0, 0, 1, left, top];
  throw badValue(
    element,
    "one scale was expected for the whole drawing, found a drawing with a scale or place of its own inside it",
    "Ungroup the inner drawing, or export the board alone",
    file,
  );
}

function statedSide(element: DrawingElement, file: string): Region["side"] | null {
  const word = element.attributes["data-side"];
  if (word === undefined) return null;
  const side = sideOfWord(word);
  if (side !== null) return side;
  throw badValue(
    element,
    `top or bottom was expected in data-side, found "${word.slice(0, 40)}"`,
    "Correct the side",
    file,
  );
}

/** The side that a group's id, label or class speaks of: "top", "Bottom parts", "F.parts". */
function sideByName(group: DrawingElement): Region["side"] | null {
  const names = Object.entries(group.attributes).filter(([key]) => /^(?:id|class|(?:.*:)?label)$/.test(key));
  for (const [, name] of names) {
    const words = name.replace(/([a-z])([A-Z])/g, "$1 $2").split(/[^\p{L}\p{N}]+/u);
    if (/^[FB]\./.test(name)) return name.startsWith("F") ? "top" : "bottom";
    const sides = new Set(
      words
        .filter((word) => word.length > 2 && /^(?:top|bot|bottom|front|back|rear|oben|unten)/i.test(word))
        .map(sideOfWord),
    );
    sides.delete(null);
    // "top and bottom" says neither.
    if (sides.size === 1) return [...sides][0]!;
  }
  return null;
}
