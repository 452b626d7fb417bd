// page: – → how large letters are here against those of a laptop.

/** Letters of a laptop, px: see theme.css. */
const LAPTOP_PX = 15;

/** Tell how large letters are: distances between them, and what stands beside them, grow as they do. */
export function letterScale(): number {
  return Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / LAPTOP_PX;
}
