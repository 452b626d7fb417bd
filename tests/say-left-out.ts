// Says at the end of `npm test` what it did not run.
import { existsSync } from "node:fs";
import { chromiumPath } from "./browser/chromium-path.js";

/** Run by vitest before all tests; what it gives back is run after them. */
export function setup(): () => void {
  return () => {
    const how = existsSync(chromiumPath())
      ? "run them with `npm run test:browser`"
      : "no Chromium was found; install one, or name it in FAULTGLOW_CHROMIUM, and run `npm run test:browser`";
    process.stdout.write(`\nLeft out: the tests of the page in a browser (tests/browser): ${how}.\n`);
  };
}
