// tests: parts of several finishes on both sides of the small board, one under a shield.
import type { BoardMap } from "../../../src/board/board-schema.js";
import { BOARD } from "./relaxed-plate.js";

/** A square of so many millimetres, by its corner of least x and y. */
export const square = (x: number, y: number, side: number): [number, number][] => [
  [x, y],
  [x + side, y],
  [x + side, y + side],
  [x, y + side],
];

/** A shield over U1, a bare die with a small part on it, two parts below. */
export const MIXED: BoardMap = {
  ...BOARD,
  regions: [
    { ref: "SH1", side: "top", kind: "shield", polygon: square(5, 5, 12) },
    { ref: "U1", side: "top", kind: "ic", finish: "moulded", polygon: square(8, 8, 4) },
    { ref: "U2", side: "top", kind: "ic", finish: "bare-die", polygon: square(24, 6, 8) },
    { ref: "C1", side: "top", kind: "passive", emissivity: 0.42, polygon: square(26, 8, 3) },
    { ref: "U9", side: "bottom", kind: "ic", finish: "bare-metal", polygon: square(34, 16, 5) },
    { ref: "C9", side: "bottom", kind: "passive", polygon: square(20, 18, 3) },
  ],
};
