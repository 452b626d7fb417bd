// sources: a part's designator, and its face in the baseline → the chance that it is bare metal, and mirrors.

/** Spread of what a mirror, and what a dull face, shows against the board around it where nothing heats, K: walls,
 *  ceiling and a hand differ from the board by a kelvin or two; dull finishes show a tenth of that, and the camera's
 *  pattern. Judgements. */
const MIRROR_SPREAD_K = 1.5;
const DULL_SPREAD_K = 0.25;

/** Chance that a part of unstated finish is bare metal, by the letters of its reference designator: shields and cans
 *  are, connectors often have shells, chips and passives seldom (class letters as in IEEE 315, from memory; shares:
 *  common practice, no source).
 */
export function shinyByLetters(ref: string): number {
  const letters = /^[A-Za-z]+/.exec(ref)?.[0].toUpperCase() ?? "";
  if (/^(SH|CAN|MP|E)$/.test(letters)) return 0.6;
  if (/^(J|P|X|CN|CON|USB)$/.test(letters)) return 0.3;
  if (/^(C|R|L|FB|D|Q)$/.test(letters)) return 0.05;
  return 0.15;
}

/** Chance that a face is a mirror, from how it stands out of the board in the baseline, where nothing heats.
 *  A mirror shows the room, which is seldom as warm as the board to a few tenths of a kelvin; a dull face shows its own
 *  temperature, which is the board's.
 *  @param before chance before anything is seen.
 *  @param contrastK face minus the board around it, K; null where it can't be told.
 *  @returns the chance after it has been seen, 0…1.
 */
export function shinyFromBaseline(before: number, contrastK: number | null): number {
  if (contrastK === null || !(contrastK * 0 === 0)) return before;
  const asMirror = student(contrastK, MIRROR_SPREAD_K);
  const asDull = student(contrastK, DULL_SPREAD_K);
  return (before * asMirror) / (before * asMirror + (1 - before) * asDull);
}

/** Student's density with three degrees of freedom, 2 ÷ (π√3) at its middle: rooms and patterns have tails. */
function student(x: number, scale: number): number {
  return 0.3675 / scale / (1 + (x / scale) ** 2 / 3) ** 2;
}
