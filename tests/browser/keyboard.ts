// A person without a mouse: Tab to what is wanted, press keys, walk a cross by arrow keys.
import type { Page } from "playwright-core";

/** Keys on a page. */
export interface Keyboard {
  readonly press: (keys: string, times?: number) => Promise<void>;
  readonly type: (text: string) => Promise<void>;
  /** Tab until what has the focus matches, and say so where it never does. */
  readonly tabTo: (selector: string, text?: string | RegExp) => Promise<void>;
  /** Tab to a button or link by its text, and press Enter on it. */
  readonly enter: (text: string | RegExp) => Promise<void>;
  /** Move the cross of a pane of the editor: tens of steps with Alt, tenths with Shift. */
  readonly walk: (by: readonly [number, number], step: number) => Promise<void>;
}

/** More stops than any page has. */
const MOST_STOPS = 200;

/** Take hold of the keyboard of a page. */
export function keyboardOf(page: Page): Keyboard {
  const press = async (keys: string, times = 1): Promise<void> => {
    for (let i = 0; i < times; i++) await page.keyboard.press(keys);
  };
  const tabTo = async (selector: string, text: string | RegExp = ""): Promise<void> => {
    const source = typeof text === "string" ? text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&") : text.source;
    // What is not there yet, or can't be used yet, is waited for: a person does not tab on before it comes.
    await page.waitForFunction(
      ([css, words]) =>
        [...document.querySelectorAll<HTMLElement>(css!)].some(
          (one) =>
            one.checkVisibility() &&
            !one.matches(":disabled") &&
            new RegExp(words!).test(`${one.textContent} ${one.getAttribute("aria-label") ?? ""}`),
        ),
      [selector, source],
    );
    for (let i = 0; i < MOST_STOPS; i++) {
      const isThere = await page.evaluate(
        ([css, words]) => {
          const element = document.activeElement;
          return (
            element?.matches(css!) === true &&
            new RegExp(words!).test(`${element.textContent} ${element.getAttribute("aria-label") ?? ""}`)
          );
        },
        [selector, source],
      );
      if (isThere) return;
      await press("Tab");
    }
    throw new Error(`no ${selector} with "${source}" within ${MOST_STOPS} stops`);
  };
  return {
    press,
    tabTo,
    type: (text) => page.keyboard.type(text),
    enter: async (text) => {
      await tabTo("button, a, summary", text);
      await press("Enter");
    },
    walk: async (by, step) => {
      for (const [axis, names] of [
        ["Left", "Right"],
        ["Up", "Down"],
      ].entries()) {
        const tenths = Math.round((by[axis as 0 | 1] / step) * 10);
        const arrow = `Arrow${names[tenths < 0 ? 0 : 1]}`;
        const size = Math.abs(tenths);
        await press(`Alt+${arrow}`, Math.floor(size / 100));
        await press(arrow, Math.floor((size % 100) / 10));
        await press(`Shift+${arrow}`, size % 10);
      }
    },
  };
}
