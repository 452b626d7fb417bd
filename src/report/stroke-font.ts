// report: a string → strokes, so that labels in a picture need no font and come out the same on every machine.
import { visibleText } from "./visible-text.js";

// Our own letters on a grid: capitals from y = 0 to the base line y = 7, small letters from y = 2, descenders to y = 9.
// First the width, then strokes of digit pairs "xy"; "~" rounds a stroke's corners.
const GLYPHS: Readonly<Record<string, string>> = Object.freeze({
  " ": "2",
  "0": "4 ~204047070020 1532",
  "1": "4 022027 0747",
  "2": "4 ~0200404407 0747",
  "3": "4 ~0100404313 ~1343470706",
  "4": "4 300545 3037",
  "5": "4 400003 ~0343470706",
  "6": "4 ~30000747430304",
  "7": "4 004017",
  "8": "4 ~204043030020 ~234347070323",
  "9": "4 ~17474000044443",
  A: "4 072047 1434",
  B: "4 0007 ~00404303 ~03434707",
  C: "4 ~414000074746",
  D: "4 0007 ~00404707",
  E: "4 40000747 0333",
  F: "4 400007 0333",
  G: "4 ~414000074744 4424",
  H: "4 0007 4047 0343",
  I: "2 1017 0020 0727",
  J: "4 ~40470705",
  K: "4 0007 4004 1347",
  L: "4 000747",
  M: "4 0700244047",
  N: "4 07004740",
  O: "4 ~204047070020",
  P: "4 0007 ~00404404",
  Q: "4 ~204047070020 2547",
  R: "4 0007 ~00404404 2447",
  S: "4 ~4140000343470706",
  T: "4 0040 2027",
  U: "4 ~00074740",
  V: "4 002740",
  W: "6 0017325760",
  X: "4 0047 4007",
  Y: "4 002340 2327",
  Z: "4 00400747",
  // Dots take the place of the upper part: umlauts are as small as small letters.
  Ä: "4 072247 1535 1010 3030",
  Ö: "4 ~224247070222 1010 3030",
  Ü: "4 ~02074742 1010 3030",
  a: "4 ~224247070222 4247",
  b: "4 ~224247070222 0007",
  c: "4 ~434202074746",
  d: "4 ~224247070222 4047",
  e: "4 ~444202074746 0444",
  f: "3 ~301017 0232",
  g: "4 ~224247070222 ~42490908",
  h: "4 0007 ~05024247",
  i: "0 0207 0000",
  j: "2 ~222909 2020",
  k: "3 0007 3205 1437",
  l: "1 ~000717",
  m: "6 0207 ~05023237 ~35326267",
  n: "4 0207 ~05024247",
  o: "4 ~224247070222",
  p: "4 ~224247070222 0209",
  q: "4 ~224247070222 4249",
  r: "3 0207 ~050232",
  s: "4 ~4342020444470706",
  t: "3 ~101737 0232",
  u: "4 ~02074742 4247",
  v: "4 022742",
  w: "6 0217325762",
  x: "4 0247 4207",
  y: "4 0227 4219",
  z: "4 02420747",
  ä: "4 ~224247070222 4247 1010 3030",
  ö: "4 ~224247070222 1010 3030",
  ü: "4 ~02074742 4247 1010 3030",
  ß: "4 ~070200404313 ~13434717",
  ".": "0 0707",
  ",": "1 1708",
  ":": "0 0303 0707",
  ";": "1 1313 1708",
  "-": "3 0434",
  "–": "4 0444",
  "−": "4 0444",
  "+": "4 0444 2226",
  "±": "4 0343 2125 0747",
  "=": "4 0343 0545",
  _: "4 0848",
  "/": "4 4007",
  "\\": "4 0047",
  "|": "0 0008",
  "(": "2 20020527",
  ")": "2 00222507",
  "[": "2 20000727",
  "]": "2 00202707",
  "!": "0 0004 0707",
  "?": "4 ~0100404325 2727",
  "'": "0 0002",
  '"': "2 0002 2022",
  "#": "4 1017 3037 0242 0545",
  "%": "6 6007 ~102022020010 ~556567474555",
  "&": "4 471120310406172744",
  "*": "4 2226 0345 0543",
  "<": "4 420447",
  ">": "4 024407",
  "≤": "4 410345 0747",
  "≥": "4 014305 0747",
  "°": "2 ~102022020010",
  "·": "0 0404",
  "…": "4 0707 2727 4747",
  "×": "4 0347 4307",
  "→": "4 0444 224426",
  µ: "4 0209 ~02074742 4247",
  μ: "4 0209 ~02074742 4247",
});
/** Drawn for a character that has no strokes here; the report's tables give it in full. */
const UNKNOWN = "4 0040470700";
const CAP_UNITS = 7;
const GAP_UNITS = 2;

/** Which end of the text stands at the given point. */
export type TextAnchor = "start" | "middle" | "end";

/** True if every character of a text has strokes here. */
export function canDrawText(text: string): boolean {
  return [...visibleText(text)].every((character) => Object.hasOwn(GLYPHS, character));
}

/** Width of a line of text.
 *  @param capPx height of the capitals, px.
 */
export function strokeTextWidth(text: string, capPx: number): number {
  let units = 0;
  for (const character of visibleText(text)) units += glyphWidth(character) + GAP_UNITS;
  return (Math.max(0, units - GAP_UNITS) * capPx) / CAP_UNITS;
}

/** Shorten a line of text with an ellipsis to what fits, one character at least. */
export function fitStrokeText(text: string, capPx: number, widthPx: number): string {
  const shown = visibleText(text);
  const room = (widthPx * CAP_UNITS) / capPx;
  let kept = "";
  let units = 0;
  let shorter = "";
  // From the front, and no farther than there is room: a name may be a million letters long.
  for (const character of shown) {
    units += glyphWidth(character) + GAP_UNITS;
    if (units - GAP_UNITS > room && shorter !== "") return shorter;
    kept += character;
    if (shorter === "" || units + glyphWidth("…") <= room) shorter = `${kept.trimEnd()}…`;
  }
  return units - GAP_UNITS > room ? shorter : shown;
}

/** Lay a line of text out as the `d` of an SVG path, to be stroked with round caps and joins.
 *  @param x,y where the anchor and the base line meet, px.
 *  @param capPx height of the capitals, px; a stroke of capPx / 8 reads as regular, capPx / 5 as bold.
 */
export function strokeText(
  text: string,
  x: number,
  y: number,
  capPx: number,
  anchor: TextAnchor = "start",
): string {
  const shown = visibleText(text);
  const unit = capPx / CAP_UNITS;
  const width = strokeTextWidth(shown, capPx);
  let left = anchor === "start" ? x : anchor === "end" ? x - width : x - width / 2;
  const top = y - capPx;
  const parts: string[] = [];
  for (const character of shown) {
    const strokes = (GLYPHS[character] ?? UNKNOWN).split(" ").slice(1);
    for (const stroke of strokes) parts.push(strokePath(stroke, left, top, unit));
    left += (glyphWidth(character) + GAP_UNITS) * unit;
  }
  return parts.join("");
}

function glyphWidth(character: string): number {
  return Number((GLYPHS[character] ?? UNKNOWN)[0]);
}

function strokePath(stroke: string, left: number, top: number, unit: number): string {
  const rounded = stroke.startsWith("~");
  const digits = rounded ? stroke.slice(1) : stroke;
  const points: [number, number][] = [];
  for (let i = 0; i < digits.length; i += 2) {
    points.push([left + Number(digits[i]) * unit, top + Number(digits[i + 1]) * unit]);
  }
  const at = (i: number): string => pair(points[i]!);
  if (!rounded) {
    // A point is a stroke of almost no length: its round caps draw the dot.
    if (points.length === 2 && at(0) === at(1)) return `M${at(0)}h0.01`;
    return `M${points.map(pair).join("L")}`;
  }
  let path = `M${at(0)}L${middle(points[0]!, points[1]!)}`;
  for (let i = 1; i < points.length - 1; i++) path += `Q${at(i)} ${middle(points[i]!, points[i + 1]!)}`;
  return `${path}L${at(points.length - 1)}`;
}

function middle(p: readonly [number, number], q: readonly [number, number]): string {
  return pair([(p[0] + q[0]) / 2, (p[1] + q[1]) / 2]);
}

function pair(point: readonly [number, number]): string {
  return `${point[0].toFixed(2)} ${point[1].toFixed(2)}`;
}
