// import: a computed length → the same without digits that mean nothing.

/** Round to a tenth of a micrometre: mils, scales such as 25.4/96, turns and curves leave digits beyond it. */
export function roundMm(mm: number): number {
  // Plus 0, so that −0 is 0.
  return Math.round(mm * 1e4) / 1e4 + 0;
}
