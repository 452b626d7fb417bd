// sources: a part that heats → the same heat in the middle of it.
import { centroid } from "../board/polygon.js";
import { heatFootprint } from "./heat-footprint.js";
import type { PlateGrid } from "./plate-grid.js";
import type { Candidate } from "./source-model.js";

/** Sides of the middle, as a share of the part's own: dies take a quarter of their package, and up to all of it (common
 *  practice, no source). */
const CORE = 0.5;

/** The middle of a named part, which its die may heat alone. Between that and all of the part lies how its heat enters
 *  the board: of heat that has hardly spread, or of two parts beside each other, the watts hang on it.
 *  @returns a candidate whose face shows nothing; null where the part has no name or does not heat.
 */
export function heatCore(grid: PlateGrid, part: Candidate): Candidate | null {
  if (part.kind === "mirror" || part.region < 0) return null;
  const [x, y] = centroid(part.polygon);
  const polygon = part.polygon.map(([u, v]): [number, number] => [x + CORE * (u - x), y + CORE * (v - y)]);
  const footprint = heatFootprint(grid, polygon);
  return footprint && { ...part, kind: "heat", polygon, footprint, body: null };
}
