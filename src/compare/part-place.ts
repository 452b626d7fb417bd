// compare: a part's designator and side → its place on the board, by which attempts know it again.

/** The designator and side of a part: a designator may stand on both sides. */
export interface PartPlace {
  readonly ref: string;
  readonly side: "top" | "bottom";
}

/** Name of a part's place, for maps and sets. */
export function placeKey({ ref, side }: PartPlace): string {
  return `${side} ${ref}`;
}

/** Find what a list has of a part. */
export function partAt<Part extends PartPlace>(
  parts: readonly Part[],
  { ref, side }: PartPlace,
): Part | undefined {
  return parts.find((part) => part.ref === ref && part.side === side);
}
