// page: – → the size of an attempt's small board, and of the gap in which changes stand.

/** Both in px. */
export const CARD = Object.freeze({ width: 300, height: 220, gap: 190 });
