// findings: what an attempt says of every part of the map, and of which board it is → the schemas that findings.json
// holds.
import * as z from "zod";

const side = z.enum(["top", "bottom"]);

/** What one attempt says of one part, whether it heats or not: what comparisons and profiles are made from. */
export const partSchema = z.object({
  ref: z.string(),
  side,
  normallyWarm: z.boolean(),
  /** As the map has them; absent where it names none. */
  nets: z.array(z.string()).optional(),
  /** Smallest rectangle along the board's axes that holds the part, mm: least x, least y, largest x, largest y. */
  boundsMm: z.tuple([z.number(), z.number(), z.number(), z.number()]),
  /** A view shows its side, and at least half of its face lies in the frame. */
  seen: z.boolean(),
  /** Its face mirrors the room, by the map: what it shows is not its own warmth. */
  shiny: z.boolean(),
  /** Rank of the hotspot that it is the most probable source of; null if of none. */
  hotspot: z.int().positive().nullable(),
  /** Watts by the fit; null where it was not found to heat. */
  powerW: z.number().nullable(),
  powerSigmaW: z.number().nullable(),
  /** The share of that uncertainty that noise makes: without the plate's constants, which two attempts on one board
   *  have in common. */
  powerNoiseW: z.number().nullable(),
  /** Largest smoothed rise on its face, or, where that is out of sight, of the board in its place; null outside the
   *  frame. */
  riseK: z.number().nullable(),
  riseSigmaK: z.number().nullable(),
  /** How much warmer than the board around it the face is, taken as even; null where no view sees it. */
  contrastK: z.number().nullable(),
  contrastSigmaK: z.number().nullable(),
  /** Share of such a step that the picture shows at the size tested: what was measured is contrast × gain. */
  contrastGain: z.number().nullable(),
  /** Fewest watts in it that would have been found by the board around it; null where nothing of its heat is in
   *  view. */
  limitW: z.number().nullable(),
  /** Least contrast of its face that would have been found; null where no view sees it, or it is shiny. */
  limitK: z.number().nullable(),
  /** Watts that the fit gives it when it is taken in beside all that was found, listed or not, what noise and the
   *  model's error make of them, and the χ² that it then explains beyond what uneven copper makes of the other heat, ÷
   *  the residual scale. */
  triedW: z.number().nullable().optional(),
  triedSigmaW: z.number().nullable().optional(),
  triedEvidence: z.number().nullable().optional(),
  /** The fit took what its face shows for the room, mirrored. Absent where it did not. */
  mirrored: z.literal(true).optional(),
});

/** Which board it was, so that two attempts can be known to be of one. */
export const boardIdentitySchema = z.object({
  name: z.string().nullable(),
  /** Hash of the outline's corners. */
  outline: z.string(),
  /** Hash of every part's name, side and corners. */
  parts: z.string(),
  /** The sides that the views show. */
  sides: z.array(side),
  /** How far heat had spread, as the fit has it: at rest with losses, still rising, or with the supply, on and off; and
   *  over which length, mm. */
  spread: z.object({ state: z.enum(["steady", "rising", "alternating"]), lengthMm: z.number() }).nullable(),
});

export type PartFindings = z.infer<typeof partSchema>;
export type BoardIdentity = z.infer<typeof boardIdentitySchema>;
