// page: – → how large letters are here against those of a laptop.

/** Letters of a laptop, px: see theme.css. */
const LAPTOP_PX = 15;

let known: number | null = null;
globalThis.addEventListener?.("resize", () => {
  known = null;
});

/** Tell how large letters are: distances between them, and what stands beside them, grow as they do. Kept until the
 *  window changes: asked by each of hundreds of regions while they are drawn, the browser would lay the page out each
 *  time. */
export function letterScale(): number {
  known ??= Number.parseFloat(getComputedStyle(document.documentElement).fontSize) / LAPTOP_PX;
  return known;
}
