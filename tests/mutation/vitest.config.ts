import { defineConfig } from "vitest/config";

// Tests of the units that are mutated, and no slower ones: each mutant runs all that reach it, hundreds of times over.
export default defineConfig({
  test: {
    include: [
      "tests/unit/{hotspots,suspects,compare,readings}/**/*.test.ts",
      "tests/unit/rise/{subtract-frames,weigh-frames,remove-drift,local-contrast}.test.ts",

      "tests/property/{hotspots,suspects,compare,readings}/**/*.test.ts",
    ],
    setupFiles: "tests/fix-seed.ts",
    testTimeout: 60_000,
  },
});
