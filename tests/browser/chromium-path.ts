// Where Chromium is on this machine: FAULTGLOW_CHROMIUM, else where systems put it, else what Playwright has
// downloaded.
import { existsSync } from "node:fs";
import { chromium } from "playwright-core";

/** Find Chromium. */
export function chromiumPath(): string {
  const places = [process.env["FAULTGLOW_CHROMIUM"], "/usr/bin/chromium", "/usr/bin/chromium-browser"];
  return places.find((place) => place !== undefined && existsSync(place)) ?? chromium.executablePath();
}
