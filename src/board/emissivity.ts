// board: the finish of a region → its emissivity, with where the value comes from.
import type { Finish, Region } from "./board-schema.js";

/** An emissivity in the long-wave band (8–14 µm, 20–100 °C) and the range in which surfaces of that finish lie. */
export interface FinishEmissivity {
  readonly emissivity: number;
  readonly low: number;
  readonly high: number;
  readonly source: string;
}

/** Emissivity by finish. Originals were not seen: the values are as compiled tables reproduce them. Other tables agree:
 *  porcelain 0.92, plastics 0.94 at 20 °C; at 8–14 µm polished copper 0.03, bright aluminium 0.02–0.1, plated nickel
 *  0.05–0.15, nickel–copper 0.10–0.14; vinyl tape 0.96. */
export const FINISH_EMISSIVITY: Readonly<Record<Finish, FinishEmissivity>> = Object.freeze({
  "solder-mask": {
    emissivity: 0.91,
    low: 0.85,
    high: 0.95,
    source: "glass-fibre laminate 0.91 at 8–14 µm, 70 °C (Öhman 1999); range: engineering use, from memory",
  },
  moulded: {
    emissivity: 0.93,
    low: 0.9,
    high: 0.95,
    source:
      "epoxy moulding compound 0.90–0.95, from memory; opaque plastics 0.95 at 8–14 µm (pyrometer tables)",
  },
  ceramic: {
    emissivity: 0.92,
    low: 0.9,
    high: 0.94,
    source: "porcelain at 20 °C 0.92 (Bramson 1968), taken for the body of a ceramic capacitor",
  },
  "bare-die": {
    emissivity: 0.65,
    low: 0.3,
    high: 0.82,
    source:
      "no constant: silicon lets long waves through, more or less by its doping (Sopori et al. 1999, doi " +
      "10.1007/s11664-999-0126-7); 0.82 with glass on it; the value itself is a working figure from memory",
  },
  "bare-metal": {
    emissivity: 0.1,
    low: 0.03,
    high: 0.28,
    source:
      "tinned steel sheet 0.064 (Wolfe 1965), nickel 0.05–0.15, nickel–copper 0.10–0.14 at 8–14 µm (pyrometer " +
      "tables), untreated stainless sheet 0.28 (Öhman 1999)",
  },
  coated: {
    emissivity: 0.96,
    low: 0.92,
    high: 0.98,
    source:
      "black vinyl tape 0.96; dull black lacquer 0.96–0.98 (Bramson 1968); paints 0.92–0.94 (Öhman 1999)",
  },
});

/** What bare board is taken for wherever no region lies. */
export const BOARD_FINISH: Finish = "solder-mask";

/** The finish taken where a region declares neither finish nor emissivity, by the kind of part: packages and
 *  connectors are plastic, passives mostly ceramic, shields bare metal (common practice, no source). */
const DEFAULT_FINISH: Readonly<Record<NonNullable<Region["kind"]>, Finish>> = Object.freeze({
  ic: "moulded",
  passive: "ceramic",
  shield: "bare-metal",
  connector: "moulded",
  other: "moulded",
});

/** Say which finish a region has, or is taken to have. A declared emissivity does not change the finish. */
export function finishOf(region: Pick<Region, "finish" | "kind">): Finish {
  return region.finish ?? DEFAULT_FINISH[region.kind ?? "other"];
}

/** Say which emissivity a region has: the declared one, else that of its finish, else that of the finish taken for
 *  its kind of part (`DEFAULT_FINISH`). */
export function emissivityOf(region: Pick<Region, "finish" | "kind" | "emissivity">): number {
  return region.emissivity ?? FINISH_EMISSIVITY[finishOf(region)].emissivity;
}

/** Finishes below this emissivity show the room rather than a small rise of their own: they throw back more than they
 *  emit. */
export const SHINY_EMISSIVITY = 0.5;

/** Say whether a region mirrors the room rather than shows a small rise of its own. */
export function isShiny(region: Pick<Region, "finish" | "kind" | "emissivity">): boolean {
  return emissivityOf(region) < SHINY_EMISSIVITY;
}
