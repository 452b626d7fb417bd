// import: a reference designator → the kind of part that its letters stand for.
import type { Region } from "../board/board-schema.js";

/** Class letters of designators. Letters of C, D, F, FB, FL, J, K, L, P, Q, R, RN, RT, RV, S, T, TP, U, X, Y as in
 *  ASME Y14.44 (from memory); BT, CN, IC, LED, SH, CON and USB are common practice, no source.
 *  Transistors and diodes are moulded like ICs, and the kind sets the finish where nothing else does. */
const KIND_BY_LETTERS: Readonly<Record<string, Region["kind"]>> = Object.freeze({
  C: "passive",
  CA: "passive",
  F: "passive",
  FB: "passive",
  FL: "passive",
  L: "passive",
  R: "passive",
  RA: "passive",
  RN: "passive",
  RP: "passive",
  RT: "passive",
  RV: "passive",
  TH: "passive",
  CR: "ic",
  D: "ic",
  IC: "ic",
  Q: "ic",
  T: "ic",
  TR: "ic",
  U: "ic",
  VR: "ic",
  SH: "shield",
  SHD: "shield",
  CN: "connector",
  CON: "connector",
  J: "connector",
  JP: "connector",
  P: "connector",
  USB: "connector",
  X: "other",
  XTAL: "other",
  Y: "other",
  BT: "other",
  K: "other",
  LED: "other",
  LS: "other",
  MK: "other",
  S: "other",
  SW: "other",
});

/** Marks on a board that are no parts: fiducials, test points, mounting holes (common practice, no source). */
const NO_PART = /^(?:FID|FD|TP|MH|HOLE|MTG)\d*$/i;

/** Guess the kind of a part from the letters of its designator.
 *  @returns undefined where the letters say nothing that is common. */
export function kindOfRef(ref: string): Region["kind"] | undefined {
  const letters = /^[A-Za-z]+(?=[\d_-]|$)/.exec(ref.trim())?.[0]?.toUpperCase();
  return letters === undefined || !Object.hasOwn(KIND_BY_LETTERS, letters)
    ? undefined
    : KIND_BY_LETTERS[letters];
}

/** True for designators of marks and holes, which have no body and give off no heat. */
export function isNoPart(ref: string): boolean {
  return NO_PART.test(ref.trim());
}
