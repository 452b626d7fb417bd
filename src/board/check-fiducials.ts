// board: the fiducials of a view → an error if they can fix no transform, whatever the model.
import { ToolError } from "../core/errors.js";
import { formatSignificant } from "../core/format-quantity.js";
import type { View } from "./board-schema.js";
import type { PlaceLimits } from "./place-defaults.js";
import type { Point } from "./polygon.js";

/** Nobody clicks so many, and each is compared with each. */
const MOST_FIDUCIALS = 1000;

/** Check fiducials before a transform is fitted.
 *  @throws ToolError E_VIEW_FRAME if one lies far outside the frame, E_VIEW_FIDUCIALS if they are more than a thousand,
 *  two are one place, all lie close together, or all (or all but one of four and more) lie on one line. The worst one
 *  is named. */
export function checkFiducials(view: View, limits: PlaceLimits): void {
  refuseMany(view, limits);
  refuseFarOutside(view, limits);
  for (const space of ["board", "pixel"] as const) {
    const points = view.fiducials.map((fiducial) => fiducial[space]);
    refuseRepeats(points, space, limits);
    if (space === "pixel") refuseCrowd(points, view, limits);
    refuseLine(points, space, limits);
  }
}

function refuseMany({ fiducials }: View, limits: PlaceLimits): void {
  if (fiducials.length <= MOST_FIDUCIALS) return;
  throw new ToolError("E_VIEW_FIDUCIALS", {
    problem: `at most ${MOST_FIDUCIALS} fiducials are read, found ${fiducials.length}`,
    fix: "Keep those at the corners of the board, and a few between them",
    place: { file: limits.file, path: "fiducials" },
  });
}

function refuseFarOutside(view: View, limits: PlaceLimits): void {
  const { width, height } = view.frame;
  let worst = -1;
  let worstShare = limits.maxOutsideShare;
  view.fiducials.forEach(({ pixel: [x, y] }, i) => {
    const share = Math.max(
      (-0.5 - x) / width,
      (x - (width - 0.5)) / width,
      (-0.5 - y) / height,
      (y - (height - 0.5)) / height,
    );
    if (share > worstShare) {
      worst = i;
      worstShare = share;
    }
  });
  if (worst < 0) return;
  const [x, y] = view.fiducials[worst]!.pixel;
  throw new ToolError("E_VIEW_FRAME", {
    problem: `the pixel [${x}, ${y}] lies far outside the frame of ${width}×${height}`,
    fix: "Give pixels of the baseline frame itself, not of an enlarged picture, x before y, and its size as frame",
    place: { file: limits.file, path: `fiducials[${worst}].pixel` },
  });
}

function refuseRepeats(points: readonly Point[], space: "board" | "pixel", limits: PlaceLimits): void {
  const same = 1e-6 * extent(points);
  for (let j = 1; j < points.length; j++) {
    for (let i = 0; i < j; i++) {
      if (distance(points[i]!, points[j]!) > same) continue;
      throw new ToolError("E_VIEW_FIDUCIALS", {
        problem: `fiducials[${i}] and fiducials[${j}] are the same ${space} point [${points[j]!.join(", ")}]`,
        fix: "Leave one of them out, or correct it",
        place: { file: limits.file, path: `fiducials[${j}].${space}` },
      });
    }
  }
}

function refuseCrowd(pixels: readonly Point[], view: View, limits: PlaceLimits): void {
  const spread = extent(pixels);
  const least = limits.minExtentShare * Math.hypot(view.frame.width, view.frame.height);
  if (spread >= least) return;
  throw new ToolError("E_VIEW_FIDUCIALS", {
    problem: `all fiducials lie within ${formatSignificant(spread, 2)} px of each other; ${formatSignificant(least, 2)} px are needed`,
    fix: "Take points near opposite ends of the board, in pixels (not in shares of the frame)",
    place: { file: limits.file, path: "fiducials" },
  });
}

/** Three fiducials must not lie on one line, and of four and more no line may hold all but one. */
function refuseLine(points: readonly Point[], space: "board" | "pixel", limits: PlaceLimits): void {
  const n = points.length;
  if (n < 3) return;
  const all = points.map((_, i) => i);
  const groups = n === 3 ? [all] : [all, ...all.map((left) => all.filter((i) => i !== left))];
  for (const group of groups) {
    if (spreadShare(group.map((i) => points[i]!)) >= limits.minSpreadShare) continue;
    const worst = middleOf(group, points);
    const whole = group.length === n;
    throw new ToolError("E_VIEW_FIDUCIALS", {
      problem: `the ${space} points of ${whole ? "all" : group.length} fiducials (${group.join(", ")}) lie on one line${
        whole ? "" : " with a single one off it"
      }; fiducials[${worst}] is the one that adds least`,
      fix: `Move fiducials[${worst}] away from that line${n === 3 ? ", or leave it out: two fiducials will do" : ""}`,
      place: { file: limits.file, path: `fiducials[${worst}].${space}` },
    });
  }
}

/** Spread across the best line ÷ spread along it: 0 on a line, 1 for points spread alike both ways. */
function spreadShare(points: readonly Point[]): number {
  const [meanX, meanY] = mean(points);
  let xx = 0;
  let xy = 0;
  let yy = 0;
  for (const [x, y] of points) {
    xx += (x - meanX) ** 2;
    xy += (x - meanX) * (y - meanY);
    yy += (y - meanY) ** 2;
  }
  const half = Math.hypot((xx - yy) / 2, xy);
  const large = (xx + yy) / 2 + half;
  return Math.sqrt(Math.max(0, (xx * yy - xy * xy) / large) / large);
}

/** The one of a group on a line that is nearest to the group's mean. */
function middleOf(group: readonly number[], points: readonly Point[]): number {
  const centre = mean(group.map((i) => points[i]!));
  return group.reduce((best, i) =>
    distance(points[i]!, centre) < distance(points[best]!, centre) ? i : best,
  );
}

function extent(points: readonly Point[]): number {
  let most = 0;
  for (const a of points) for (const b of points) most = Math.max(most, distance(a, b));
  return most;
}

function mean(points: readonly Point[]): Point {
  const n = points.length;
  return [points.reduce((sum, [x]) => sum + x / n, 0), points.reduce((sum, [, y]) => sum + y / n, 0)];
}

function distance(a: Point, b: Point): number {
  return Math.hypot(a[0] - b[0], a[1] - b[1]);
}
