// An element of the page → where it is once nothing moves it any more.
import type { Locator } from "playwright-core";

/** A box on the screen, px of the window. */
export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** Frames of the screen over which it has to stay: what is laid out by a size that was measured moves a frame later. */
const STILL_FRAMES = 3;

/** Wait until an element stays where it is, and say where that is.
 *  @throws Error if it is taken off the page meanwhile. */
export async function stillBox(locator: Locator): Promise<Box> {
  await locator.waitFor();
  return locator.evaluate(async (element, frames) => {
    const read = (): Box => {
      const { x, y, width, height } = element.getBoundingClientRect();
      return { x, y, width, height };
    };
    let before = "";
    for (let still = 0; still < frames; ) {
      if (!element.isConnected) throw new Error(`${element.className} was taken off the page`);
      const now = JSON.stringify(read());
      still = now === before ? still + 1 : 0;
      before = now;
      await new Promise(requestAnimationFrame);
    }
    return read();
  }, STILL_FRAMES);
}
