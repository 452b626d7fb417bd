// How long the browser tests wait for what a page shows: it comes when it comes, and other processes may be at work on
// the machine.

/** Wait for one thing, ms: a wait costs nothing where it comes sooner, and a machine under twenty others takes minutes
 *  to analyse a burst. */
export const PATIENCE_MS = 300_000;

/** The same, as Playwright and Vitest take it. */
export const LONG = { timeout: PATIENCE_MS };
