// page: what the user prefers → signals, kept in the browser.
import { effect, type Signal, signal } from "@preact/signals";
import type { DecimalMark } from "../show/show-number.js";
import { markDecimals } from "../show/show-number.js";
import type { TemperatureUnit } from "../show/show-temperature.js";

/** Light, dark, or as the machine is set. */
export type Theme = "auto" | "light" | "dark";

/** Colours of the page. */
export const theme: Signal<Theme> = kept("theme", ["auto", "light", "dark"]);
/** Unit of temperatures. */
export const temperature: Signal<TemperatureUnit> = kept("temperature", ["C", "F"]);
/** Decimal mark of what is shown; typed, both are understood. */
export const decimalMark: Signal<DecimalMark> = kept(
  "decimal-mark",
  (1.5).toLocaleString().includes(",") ? [",", "."] : [".", ","],
);
/** True while colours are dark. */
export const isDark: Signal<boolean> = signal(false);

/** Mark the decimals of a text as the user reads them. */
export function showNumber(text: string): string {
  return markDecimals(text, decimalMark.value);
}

/** Let the document follow the theme, and the machine where that is asked for. */
export function followTheme(): void {
  const machine = matchMedia("(prefers-color-scheme: dark)");
  const machineIsDark = signal(machine.matches);
  machine.addEventListener("change", () => {
    machineIsDark.value = machine.matches;
  });
  effect(() => {
    isDark.value = theme.value === "auto" ? machineIsDark.value : theme.value === "dark";
    document.documentElement.dataset["theme"] = isDark.value ? "dark" : "light";
  });
}

/** A signal whose value stays in the browser; the first choice holds until another was made. */
function kept<Choice extends string>(name: string, choices: readonly [Choice, ...Choice[]]): Signal<Choice> {
  const key = `faultglow-${name}`;
  const value = signal<Choice>(choices.find((choice) => choice === stored(key)) ?? choices[0]);
  effect(() => {
    try {
      localStorage.setItem(key, value.value);
    } catch {
      // A browser that keeps nothing still shows the page as chosen, until it is closed.
    }
  });
  return value;
}

function stored(key: string): string | null {
  try {
    return localStorage.getItem(key);
  } catch {
    return null;
  }
}
