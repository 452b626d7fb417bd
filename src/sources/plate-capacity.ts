// sources: what a map tells of its board → the heat capacity of its plate.
import type { BoardMap } from "../board/board-schema.js";

/** What the heat capacity is made of where the map does not tell it. */
export const PLATE_CAPACITY = Object.freeze({
  /** Heat capacity of laminate with copper, J/m³K: glass-fibre epoxy of 1880 kg/m³ × 999 J/kgK (G-10 CR at 300 K,
   *  NIST's curve of cryogenic material properties, 2 %), and 14 % of the thickness copper (3.4e6): four layers of 35
   *  µm in 1 mm. 2.0e6 in 1.6 mm. */
  heatCapacityJPerM3K: 2.1e6,
  /** … and of the parts on it, J/m²K: as of a sixth of the board under 1 mm of moulding compound (1.73e6 J/m³K: 1.9
   *  g/cm³ and 910 J/kgK, Thermal Characteristic Investigation for a Multichip Module Based on APDL, 2024,
   *  doi:10.1155/2024/2028369, table 1),
   *  288. How much of a board parts cover is a judgement; all of it is an eighth of the whole. */
  partsJPerM2K: 300,
  /** Thickness where the map does not tell it, mm. */
  thicknessMm: 1,
});

/** Error of the heat capacity's logarithm: told, by thickness (to a sixth: the parts, an eighth of it, and the copper,
 *  a tenth, to their own size), or that of a usual board (thicknesses of 0.6 to 2 mm, evenly spread: 0.35). */
export const CAPACITY_ERRORS = Object.freeze({ told: 0.1, byThickness: 0.17, usual: 0.35 });

type Capacities = { readonly [K in keyof typeof PLATE_CAPACITY]: number };

/** Heat capacity of a board's plate, parts included, J/m²K: as its map tells it, or by its thickness, or of a usual
 *  one. */
export function plateCapacity(
  board: Pick<BoardMap, "plate" | "thicknessMm">,
  o: Capacities = PLATE_CAPACITY,
): number {
  return toldCapacity(board, o) ?? ofThickness(o.thicknessMm, o);
}

/** The same; null where the map tells neither capacity nor thickness. */
function toldCapacity(
  { plate, thicknessMm }: Pick<BoardMap, "plate" | "thicknessMm">,
  o: Capacities,
): number | null {
  return plate?.heatCapacityJPerM2K ?? (thicknessMm === undefined ? null : ofThickness(thicknessMm, o));
}

/** What a board's heat capacity is known by: its map, its thickness, or that boards are alike. */
export function capacityBy({
  plate,
  thicknessMm,
}: Pick<BoardMap, "plate" | "thicknessMm">): "told" | "byThickness" | "usual" {
  if (plate?.heatCapacityJPerM2K !== undefined) return "told";
  return thicknessMm === undefined ? "usual" : "byThickness";
}

function ofThickness(thicknessMm: number, o: Capacities): number {
  return o.heatCapacityJPerM3K * 1e-3 * thicknessMm + o.partsJPerM2K;
}
