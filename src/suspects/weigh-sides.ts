// suspects: the probability of every candidate in a source's place → that of either side of the board.

/** Probability that a source sits on the top, and on the bottom. What is missing to 1: it is no heat at all. */
export interface SideOdds {
  readonly top: number;
  readonly bottom: number;
}

/** Smaller chances are not stated: nobody has measured how often the model errs by more. */
const LEAST_CHANCE = 1e-6;

/** Sum the probabilities of all candidates by the side they sit on, places that no region names with those of their
 *  side.
 *  @param weighed all candidates in the source's place, as `weighAll` gives them.
 */
export function weighSides(
  weighed: readonly {
    readonly candidate: { readonly side: keyof SideOdds };
    readonly probability: number;
  }[],
): SideOdds {
  const sum = (side: keyof SideOdds) => {
    const of = weighed.filter(({ candidate }) => candidate.side === side);
    return Math.min(
      1,
      Math.max(
        LEAST_CHANCE,
        of.reduce((all, { probability }) => all + probability, 0),
      ),
    );
  };
  return { top: sum("top"), bottom: sum("bottom") };
}
