// report: the cautions that stand in every report, worded once.

/** What to mind before power goes into a board, in the order of the work. Common practice of the trade, no source.
 *  They remind a trained person; they replace neither training nor the rules of the place.
 */
export const CAUTIONS: readonly string[] = Object.freeze([
  "Take the cell off the board before anything else, and never feed current into a cell from a bench supply.",
  "A cell that is swollen, warm by itself or pierced: stop, leave it alone, and handle it as your local rules for damaged cells say.",
  "Never set the supply above the rail's nominal voltage. Start low, limit the current, and raise it in small steps.",
  "Keep the power on for short bursts. A part that is hot in the picture burns fingers and may already be at its limit.",
  "Let flammable cleaner and freeze spray dry off and clear the air before power comes on.",
  "Mains-fed supplies and opened chargers carry dangerous voltage: work on them only if you are trained and allowed to.",
  "Where this list and the rules at your place of work differ, the rules hold.",
]);

/** What the results are and are not. */
export const AID_STATEMENT =
  "These results are an aid. They say where heat most likely arises, not why; a trained person decides what to measure, " +
  "lift or replace, and checks with the board disconnected before doing so.";
