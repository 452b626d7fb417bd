import { defineConfig } from "vitest/config";

// One file after the other: each has a browser and a bench of its own.
export default defineConfig({
  test: {
    include: ["tests/browser/**/*.test.ts"],
    fileParallelism: false,
    testTimeout: 120_000,
    hookTimeout: 120_000,
    // What a page shows comes when it comes, and other processes may be at work on the machine.
    expect: { poll: { timeout: 60_000 } },
  },
});
