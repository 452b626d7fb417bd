import { defineConfig } from "vitest/config";
import { LONG, PATIENCE_MS } from "./patience.js";

// One file after the other: each has a browser and a bench of its own.
export default defineConfig({
  test: {
    include: ["tests/browser/**/*.test.ts"],
    fileParallelism: false,
    // A wait for one thing ends before its test does.
    testTimeout: 4 * PATIENCE_MS,
    hookTimeout: 4 * PATIENCE_MS,
    expect: { poll: LONG },
  },
});
