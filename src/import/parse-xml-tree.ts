// import: the text of a drawing → its tree of elements with their lines, without anything that XML could smuggle in.
import { parseXml, XmlElement } from "@rgrove/parse-xml";
import { ToolError } from "../core/errors.js";
import { uncapitalised } from "../core/sentence-case.js";
import { type FilePlace, refuseLarge } from "./finish-import.js";

/** An element of a drawing. */
export interface DrawingElement {
  /** Without its namespace prefix. */
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly DrawingElement[];
  /** Text directly inside it. */
  readonly text: string;
  readonly place: FilePlace;
}

/** Parse XML into elements. Entities that a document declares by itself are refused, not expanded; a document type is
 *  read over and nothing is fetched for it.
 *  @throws ToolError E_SVG_SYNTAX with line and column, E_IMPORT_LARGE for elements nested too deeply. */
export function parseXmlTree(text: string, file: string): DrawingElement {
  refuseDeep(text, file);
  const placeAt = placeFinder(text);
  let root: XmlElement | null;
  try {
    root = parseXml(text, { includeOffsets: true }).root;
  } catch (error) {
    if (error instanceof RangeError) refuseLarge("depth", Number.POSITIVE_INFINITY, file);
    const { line, column, message } = error as { line?: number; column?: number; message: string };
    // The parser's message goes on with an excerpt of the file over several lines.
    const words = message.split("\n")[0]!.replace(/ \(line \d+, column \d+\)$/, "");
    throw new ToolError("E_SVG_SYNTAX", {
      problem: `the drawing is no well-formed XML: ${uncapitalised(words)}`,
      fix: "Save the drawing anew as plain SVG",
      place: { file, line, column },
    });
  }
  if (root === null) {
    throw new ToolError("E_SVG_SYNTAX", {
      problem: "an svg element was expected, found none",
      fix: "Check that this is the right file",
      place: { file },
    });
  }
  return convert(root, placeAt);
}

function convert(element: XmlElement, placeAt: (offset: number) => FilePlace): DrawingElement {
  const children: DrawingElement[] = [];
  let text = "";
  const place = placeAt(element.start);
  for (const child of element.children) {
    if (child instanceof XmlElement) children.push(convert(child, placeAt));
    else if ("text" in child) text += child.text;
  }
  return { name: localName(element.name), attributes: element.attributes, children, text, place };
}

/** The name without the prefix of its namespace. */
function localName(name: string): string {
  return name.slice(name.indexOf(":") + 1);
}

/** Count how deep elements nest before they are parsed, for the parser calls itself once for each level. */
function refuseDeep(text: string, file: string): void {
  const after = (end: string, from: number): number => {
    const at = text.indexOf(end, from);
    return at < 0 ? text.length : at + end.length;
  };
  let depth = 0;
  for (let at = text.indexOf("<"); at >= 0; at = text.indexOf("<", at)) {
    if (text.startsWith("<!--", at)) at = after("-->", at + 4);
    else if (text.startsWith("<![CDATA[", at)) at = after("]]>", at + 9);
    else if (text[at + 1] === "?") at = after("?>", at + 2);
    else if (text[at + 1] === "!") at += 2;
    else {
      const end = endOfTag(text, at + 1);
      if (text[at + 1] === "/") depth--;
      else if (text[end - 2] !== "/") depth++;
      refuseLarge("depth", depth, file);
      at = end;
    }
  }
}

/** The offset after a tag; a > inside quotes does not end it. */
function endOfTag(text: string, from: number): number {
  let quote = "";
  for (let at = from; at < text.length; at++) {
    const letter = text[at]!;
    if (quote !== "") {
      if (letter === quote) quote = "";
    } else if (letter === '"' || letter === "'") quote = letter;
    else if (letter === ">") return at + 1;
  }
  return text.length;
}

/** Offsets rise from element to element, so that lines are counted once. */
function placeFinder(text: string): (offset: number) => FilePlace {
  let line = 1;
  let lineStart = 0;
  let next = text.indexOf("\n");
  return (offset) => {
    while (next >= 0 && next < offset) {
      line++;
      lineStart = next + 1;
      next = text.indexOf("\n", lineStart);
    }
    return { line, column: offset - lineStart + 1 };
  };
}
