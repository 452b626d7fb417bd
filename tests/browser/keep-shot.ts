// Pictures of the page for whoever looks at it: kept in the folder FAULTGLOW_SHOTS, if it is set.
import { join } from "node:path";
import type { Page } from "playwright-core";

/** Keep a picture of the whole page as it is now. */
export async function keepShot(page: Page, name: string): Promise<void> {
  const folder = process.env["FAULTGLOW_SHOTS"];
  if (folder !== undefined) await page.screenshot({ path: join(folder, `${name}.png`), fullPage: true });
}
