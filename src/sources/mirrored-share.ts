// sources: a face's finish → the share of a change in the room that it shows.
import type { Candidate } from "./source-model.js";

/** A dull face and the mask beside it mirror the same blurred room: only the difference of their finishes shows, as
 *  this share of a change in the room. With 0.04 and tails one fault in a hundred more was found, and weak parts were
 *  called unsure in comparisons (record 241). */
const DULL_SHARE = 0.07;
/** From this share on, which no dull finish throws back (1 − 0.85, the lowest emissivity of a solder mask in
 *  `FINISH_EMISSIVITY`), a face mirrors by itself. */
export const MIRRORS_FROM = 0.15;
/** From this share on a face tells what stands in the room, and hardly anything of the board: it throws back more than
 *  it emits. */
export const MIRRORS_WELL = 0.5;
/** Share of a change in the room that a mirror shows: 1 less the middle of bare metal's emissivities, 0.03 to 0.28. */
export const SHINY_SHARE = 0.85;
/** A face that is a mirror with a larger chance than this counts as one, whatever the map says: even odds. */
const PROBABLY_SHINY = 0.5;

/** Share of a change in the room that a face shows against the board around it, by its emissivity, 0…1. */
export function mirroredShare(emissivity: number): number {
  return 1 - emissivity > MIRRORS_FROM ? 1 - emissivity : DULL_SHARE;
}

/** True of a part of unstated finish that rather mirrors than not. */
export function isProbablyShiny({ shinyChance }: Pick<Candidate, "shinyChance">): boolean {
  return shinyChance > PROBABLY_SHINY;
}

/** The same for a candidate, which may be a mirror though the map does not say so. */
export function shareOfRoom(candidate: Pick<Candidate, "shinyChance" | "emissivity">): number {
  return isProbablyShiny(candidate) ? SHINY_SHARE : mirroredShare(candidate.emissivity);
}
