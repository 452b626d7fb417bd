// import: a shape of a drawing → a region with what its attributes say.
import { FINISHES, type Region, regionSchema } from "../board/board-schema.js";
import type { DrawnShape } from "./collect-shapes.js";
import { kindOfRef } from "./kind-of-ref.js";
import type { DrawingElement } from "./parse-xml-tree.js";
import { badValue } from "./shape-paths.js";
import { textOfAttribute } from "./svg-text.js";

/** Ids of groups that can be a designator: letters and a number, save what drawing programs call groups by
 *  themselves. */
const DESIGNATOR = /^(?!(?:g|layer|path|rect|use)\d)[A-Za-z]{1,4}\d+[A-Za-z]?$/i;

/** Find the name of a shape: its `data-ref`, its id, or that of a group around it which is named like a part.
 *  @returns null if it has none. */
export function refOfShape(shape: DrawnShape): string | null {
  const own = namedBy(shape.element);
  if (own !== null) return own;
  for (const group of [...shape.groups].reverse()) {
    const name = namedBy(group);
    if (name !== null && (group.attributes["data-ref"] !== undefined || DESIGNATOR.test(name))) return name;
  }
  return null;
}

function namedBy({ attributes }: DrawingElement): string | null {
  const name =
    attributes["data-ref"] === undefined ? attributes["id"] : textOfAttribute(attributes["data-ref"]);
  return name === undefined || name.trim() === "" ? null : name;
}

/** Make a region of a shape.
 *  @param polygon the shape's, seen from the top.
 *  @throws ToolError E_SVG_VALUE for an attribute that says something unknown. */
export function regionOfShape(
  shape: DrawnShape,
  ref: string,
  polygon: Region["polygon"],
  file: string,
): Region {
  const { element } = shape;
  const text = (name: string): string | undefined => {
    const value = element.attributes[`data-${name}`];
    return value === undefined ? undefined : textOfAttribute(value);
  };
  const word = <Word extends string>(name: string, words: readonly Word[]): Word | undefined => {
    const value = text(name);
    if (value === undefined || value === "") return undefined;
    const found = words.find((one) => one === value);
    if (found !== undefined) return found;
    const known = words.join(", ");
    throw badValue(
      element,
      `one of ${known} was expected in data-${name}, found "${value.slice(0, 40)}"`,
      "Correct the word",
      file,
    );
  };
  const kinds = regionSchema.shape.kind.unwrap().options;
  const kind = text("kind") === undefined ? kindOfRef(ref) : word("kind", kinds);
  const label = text("label") ?? titleOf(element, ref);
  const finish = word("finish", FINISHES);
  const warm = word("normally-warm", ["true", "false"]);
  const emissivity = emissivityOf(element, text("emissivity"), file);
  const nets = netsOf(text("nets"));
  return {
    ref,
    ...(label === undefined ? {} : { label }),
    side: shape.side ?? "top",
    ...(kind === undefined ? {} : { kind }),
    polygon,
    ...(finish === undefined ? {} : { finish }),
    ...(emissivity === undefined ? {} : { emissivity }),
    ...(nets === undefined ? {} : { nets }),
    ...(warm === undefined ? {} : { normallyWarm: warm === "true" }),
  };
}

/** The title of a shape, as drawing programs show it, unless it only repeats the name. */
function titleOf(element: DrawingElement, ref: string): string | undefined {
  if (element.attributes["data-ref"] !== undefined) return undefined;
  const title = element.children.find((child) => child.name === "title")?.text.trim();
  return title === undefined || title === "" || title === ref ? undefined : title;
}

function emissivityOf(element: DrawingElement, text: string | undefined, file: string): number | undefined {
  if (text === undefined) return undefined;
  const value = Number(text);
  if (text.trim() !== "" && value > 0 && value <= 1) return value;
  throw badValue(
    element,
    `a number above 0 and at most 1 was expected in data-emissivity, found "${text.slice(0, 40)}"`,
    "Correct the number",
    file,
  );
}

/** A JSON list, or names that blanks or commas part. */
function netsOf(text: string | undefined): string[] | undefined {
  if (text === undefined) return undefined;
  if (text.startsWith("[")) {
    try {
      const list: unknown = JSON.parse(text);
      if (Array.isArray(list) && list.every((net) => typeof net === "string")) return list;
    } catch {
      // No JSON: a net may be called "[3]".
    }
  }
  return text.split(/[\s,]+/).filter((net) => net !== "");
}
