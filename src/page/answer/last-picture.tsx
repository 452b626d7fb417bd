// page: the picture that was there before → the same, faint, until the next one is painted: no empty place in between.
import { useLayoutEffect, useRef } from "preact/hooks";
import type { Point } from "../../board/polygon.js";

/** What was painted last, and of which job: it stays after it was taken off the page. */
let last: { readonly job: string; readonly canvas: HTMLCanvasElement; readonly at: Point } | null = null;

/** Keep a canvas that was painted. @param at where it lies in the box, px of the page. */
export function keepPicture(job: string, canvas: HTMLCanvasElement, at: Point): void {
  last = { job, canvas, at };
}

/** The picture before, without marks; nothing where the job has shown none yet. Meant to lie in a box of the
 *  board's. */
export function LastPicture({ job }: { readonly job: string }) {
  const place = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const target = place.current;
    if (target === null || last === null || last.job !== job) return;
    const { canvas, at } = last;
    // It is no picture of what the page tells of now.
    canvas.className = "picture-before";
    [target.style.left, target.style.top] = [`${at[0]}px`, `${at[1]}px`];
    target.replaceChildren(canvas);
  }, []);
  return <div ref={place} class="board-place" aria-hidden="true" />;
}
