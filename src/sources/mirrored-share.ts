// sources: a face's finish → the share of a change in the room that it shows.
import type { Candidate } from "./source-model.js";

/** A dull face and the mask beside it mirror the same blurred room: only the difference of their finishes shows, as this
 *  share of a change in the room. With 0.04 and tails one fault in a hundred more was found, and weak parts were called unsure in
 *  comparisons (record 241). */
const DULL_SHARE = 0.07;
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
