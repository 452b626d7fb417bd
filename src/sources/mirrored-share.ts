// sources: a face's finish → the share of a change in the room that it shows.
import type { Candidate } from "./source-model.js";

/** A dull face and the mask beside it mirror the same blurred room: only the difference of their emissivities shows. Root mean
 *  square: 0.04 for mouldings (0.90–0.95) beside mask (0.85–0.95), the ranges of `FINISH_EMISSIVITY` evenly filled, and with one
 *  face in ten of another finish than its kind so much. */
const DULL_SHARE = 0.054;
/** From this share on, which no dull finish throws back, a face mirrors by itself. */
export const MIRRORS_FROM = 0.15;
/** Share of a change in the room that a mirror shows. */
const SHINY_SHARE = 0.85;
/** A face that is a mirror with a larger chance than this counts as one, whatever the map says. */
const PROBABLY_SHINY = 0.5;

/** Share of a change in the room that a face shows against the board around it, by its emissivity, 0…1. */
export function mirroredShare(emissivity: number): number {
  return 1 - emissivity > MIRRORS_FROM ? 1 - emissivity : DULL_SHARE;
}

/** The same for a candidate, which may be a mirror though the map does not say so. */
export function shareOfRoom({
  shinyChance,
  emissivity,
}: Pick<Candidate, "shinyChance" | "emissivity">): number {
  return shinyChance > PROBABLY_SHINY ? SHINY_SHARE : mirroredShare(emissivity);
}
