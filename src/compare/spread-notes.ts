// compare: how far heat had spread in each attempt, and which side it shows → what that does to ratios, and notes.
import { formatSeconds } from "../core/format-quantity.js";
import { type Note, note } from "../core/notes.js";
import type { BoardFindings } from "./check-comparable.js";

/** How far the plate's state, fitted anew in each attempt, moves watts: standard deviation of the logarithm where it
 *  came to rest in one attempt and still rose in the other, and for each unit of the logarithm of the ratio of
 *  lengths. */
const OTHER_STATE_LOG = 0.6;
const LENGTH_LOG = 0.3;
/** Lengths this many times apart are said to differ. */
const LENGTHS_DIFFER = 2.5;
/** … and so are told times since power-on: with a clock in view nobody waits more differently by chance. A
 *  judgement. */
const TIMES_DIFFER = 1.25;

/** How differently heat had spread in the two attempts. */
function spreadOf(before: BoardFindings, after: BoardFindings): { sameState: boolean; lengthLog: number } {
  const [a, b] = [before.board.spread, after.board.spread];
  // What spreads in the rhythm of a supply tells of its period, and its watts hang on neither.
  if (a === null || b === null || a.state === "alternating") return { sameState: true, lengthLog: 0 };
  return { sameState: a.state === b.state, lengthLog: Math.abs(Math.log(b.lengthMm / a.lengthMm)) };
}

/** Scatter of the logarithm of a ratio of watts that the states of the plate make. */
export function stateScatter(before: BoardFindings, after: BoardFindings): number {
  const { sameState, lengthLog } = spreadOf(before, after);
  return sameState ? LENGTH_LOG * lengthLog : OTHER_STATE_LOG;
}

/** Say that the attempts show different sides of the board. */
export function sideNotes(before: BoardFindings, after: BoardFindings): Note[] {
  const [a, b] = [before.board.sides, after.board.sides];
  if (a.length === b.length && a.every((side) => b.includes(side))) return [];
  return [
    note(
      "N_OTHER_SIDE_SEEN",
      `The earlier attempt shows the ${a.join(" and ")} of the board, the later one the ${b.join(" and ")}: parts that one of them does not show are left unsure.`,
    ),
  ];
}

/** Say what is known or taken of the time since power-on; nothing where the supply went on and off. */
export function timeNotes(before: BoardFindings, after: BoardFindings): Note[] {
  if (isCycled(before) || isCycled(after)) return [];
  const { sameState, lengthLog } = spreadOf(before, after);
  const alike = sameState && lengthLog < Math.log(LENGTHS_DIFFER);
  const [a, b] = [before.inputs.afterS, after.inputs.afterS];
  if (a !== undefined && b !== undefined) return toldTimeNotes(a, b, alike);
  if (alike) {
    return [
      note(
        "N_TIME_ASSUMED",
        "Both attempts are taken to show the board about as long after power-on; a board that warmed longer is hotter for that alone.",
      ),
    ];
  }
  return [
    note(
      "N_TIME_DIFFERS",
      "Heat had spread much farther in one attempt than in the other: their times since power-on differ, so hotter and cooler are less certain. Wait as long in each attempt.",
    ),
  ];
}

/** @param alike heat had spread about as far in both. */
function toldTimeNotes(beforeS: number, afterS: number, alike: boolean): Note[] {
  if (Math.max(beforeS / afterS, afterS / beforeS) > TIMES_DIFFER) {
    return [
      note(
        "N_TIME_DIFFERS",
        `Frames were taken ${formatSeconds(beforeS)} and ${formatSeconds(afterS)} after power-on: watts count that in, rises don't. Wait as long in each attempt.`,
      ),
    ];
  }
  if (alike) return [];
  return [
    note(
      "N_TIME_DIFFERS",
      "Heat had spread much farther in one attempt than in the other, though about the same time since power-on was told of both: hotter and cooler are less certain. Check both times.",
    ),
  ];
}

function isCycled({ cycle }: BoardFindings): boolean {
  return (cycle ?? null) !== null;
}

/** True where watts are read as those of a constant supply though it went on and off, as they once were. */
function isReadAsConstant(findings: BoardFindings): boolean {
  const { spread } = findings.board;
  return isCycled(findings) && spread !== null && spread.state !== "alternating";
}

/** True if rises and watts mean the same in both: with a supply that is switched rises are amplitudes. */
export function sameMeaning(before: BoardFindings, after: BoardFindings): boolean {
  return isCycled(before) === isCycled(after) && isReadAsConstant(before) === isReadAsConstant(after);
}

/** Say that strengths can't be compared. */
export function cycleNotes(before: BoardFindings, after: BoardFindings): Note[] {
  if (sameMeaning(before, after)) return [];
  const why =
    isCycled(before) === isCycled(after)
      ? "The findings of one of the attempts are older than the way in which watts under a switched supply are read now (analyse its frames again)"
      : "The supply was switched on and off in one of the attempts alone, whose rises are amplitudes";
  return [
    note(
      "N_CYCLE_COMPARED",
      `${why}: heat is matched by its place, hotter, cooler, gone and new are not told.`,
    ),
  ];
}
