// import: the data of an SVG path → subpaths of lines, curves and arcs.
import type { Point } from "../board/polygon.js";

/** A piece of a path from the end of the one before. */
export type Segment =
  | { readonly to: Point }
  /** Cubic Bézier curve. */
  | { readonly to: Point; readonly control: readonly [Point, Point] }
  /** Arc of an ellipse, as its end points say (SVG 2, section 9.3.8). */
  | {
      readonly to: Point;
      readonly radii: Point;
      readonly turnDeg: number;
      readonly large: boolean;
      readonly sweep: boolean;
    };

/** A stretch of a path from one move to the next. */
export interface Subpath {
  readonly start: Point;
  readonly segments: readonly Segment[];
}

/** What could not be read of a path, and where in its data, from 0. */
export interface PathFault {
  readonly offset: number;
  readonly expected: string;
}

const ARGUMENTS: Readonly<Record<string, number>> = {
  M: 2,
  L: 2,
  H: 1,
  V: 1,
  C: 6,
  S: 4,
  Q: 4,
  T: 2,
  A: 7,
  Z: 0,
};
const NUMBER = /[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const BLANKS = /[\s,]*/y;
const FLAG = /[01]/y;

/** Parse the `d` attribute of a path (SVG 2, section 9.3): all commands, absolute and relative.
 *  Quadratic curves come out as cubic ones, which they are a case of.
 *  @returns the subpaths, or the first fault; everything before a fault is left out too, where a viewer would draw it,
 *    for half a part is no part. */
export function parsePath(d: string): readonly Subpath[] | PathFault {
  const reader = { d, at: 0 };
  const subpaths: { start: Point; segments: Segment[] }[] = [];
  const pen: Pen = { here: [0, 0], control: null, controlOf: "" };
  let current: { start: Point; segments: Segment[] } | null = null;
  skip(reader);
  while (reader.at < d.length) {
    const letter = d[reader.at]!;
    const command = letter.toUpperCase();
    const count = ARGUMENTS[command];
    if (count === undefined) return { offset: reader.at, expected: "a command of a path" };
    if (subpaths.length === 0 && command !== "M")
      return { offset: reader.at, expected: "a move (M) as the first command" };
    reader.at++;
    const relative = letter !== command;
    for (let repeat = 0; ; repeat++) {
      skip(reader);
      if (repeat > 0 && (count === 0 || !startsNumber(reader))) break;
      const n = readArguments(reader, command, count);
      if (n === null) return { offset: reader.at, expected: "a number" };
      const from: Point = relative ? pen.here : [0, 0];
      if (command === "M" && repeat === 0) {
        current = { start: [from[0] + n[0]!, from[1] + n[1]!], segments: [] };
        subpaths.push(current);
        moveTo(pen, current.start);
        continue;
      }
      // What follows a closed path without a move begins at its start.
      if (current === null) {
        current = { start: pen.here, segments: [] };
        subpaths.push(current);
      }
      if (command === "Z") {
        moveTo(pen, current.start);
        current = null;
        break;
      }
      // Further pairs after a move are lines.
      current.segments.push(draw(pen, command === "M" ? "L" : command, n, from));
    }
  }
  return subpaths;
}

/** Where the pen is, and the last control point of the curve that it has just drawn. */
interface Pen {
  here: Point;
  control: Point | null;
  /** Of which sort of curve that point is. */
  controlOf: string;
}

function moveTo(pen: Pen, to: Point): void {
  pen.here = to;
  pen.control = null;
}

/** Draw one segment; the pen goes to its end.
 *  @param from what the numbers count from: the origin, or where the pen is. */
function draw(pen: Pen, command: string, n: readonly number[], from: Point): Segment {
  const { here } = pen;
  const point = (i: number): Point => [from[0] + n[i]!, from[1] + n[i + 1]!];
  const curve = command === "C" || command === "S" ? "C" : "Q";
  const smooth: Point =
    pen.control !== null && pen.controlOf === curve
      ? [2 * here[0] - pen.control[0], 2 * here[1] - pen.control[1]]
      : here;
  let control: Point | null = null;
  let segment: Segment;
  if (command === "L") segment = { to: point(0) };
  else if (command === "H") segment = { to: [from[0] + n[0]!, here[1]] };
  else if (command === "V") segment = { to: [here[0], from[1] + n[0]!] };
  else if (command === "A") {
    const radii: Point = [Math.abs(n[0]!), Math.abs(n[1]!)];
    segment = { to: point(5), radii, turnDeg: n[2]!, large: n[3] === 1, sweep: n[4] === 1 };
  } else if (curve === "C") {
    const first = command === "C" ? point(0) : smooth;
    control = command === "C" ? point(2) : point(0);
    segment = { control: [first, control], to: command === "C" ? point(4) : point(2) };
  } else {
    control = command === "Q" ? point(0) : smooth;
    const to = command === "Q" ? point(2) : point(0);
    segment = { control: [towards(here, control), towards(to, control)], to };
  }
  pen.here = segment.to;
  pen.control = control;
  pen.controlOf = curve;
  return segment;
}

/** The control points of a quadratic curve as a cubic one lie two thirds of the way to its own. */
function towards([x, y]: Point, [cx, cy]: Point): Point {
  return [x + (2 / 3) * (cx - x), y + (2 / 3) * (cy - y)];
}

interface Reader {
  readonly d: string;
  at: number;
}

function skip(reader: Reader): void {
  BLANKS.lastIndex = reader.at;
  BLANKS.test(reader.d);
  reader.at = BLANKS.lastIndex;
}

function startsNumber(reader: Reader): boolean {
  return /[\d.+-]/.test(reader.d[reader.at] ?? "");
}

function readArguments(reader: Reader, command: string, count: number): number[] | null {
  const numbers: number[] = [];
  for (let i = 0; i < count; i++) {
    skip(reader);
    // The flags of an arc may stand without a blank behind them: "a1 1 0 01.5.5".
    const pattern = command === "A" && (i === 3 || i === 4) ? FLAG : NUMBER;
    pattern.lastIndex = reader.at;
    const match = pattern.exec(reader.d);
    if (match === null) return null;
    const value = Number(match[0]);
    if (!Number.isFinite(value)) return null;
    numbers.push(value);
    reader.at = pattern.lastIndex;
  }
  return numbers;
}
