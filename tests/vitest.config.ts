import { availableParallelism } from "node:os";
import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/browser/**"],
    globalSetup: "tests/say-left-out.ts",
    setupFiles: "tests/fix-seed.ts",
    // A test that comes to its end without having held anything against anything fails: a loop over nothing proves
    // nothing.
    expect: { requireAssertions: true },
    // Files share a process, so that each need not load the sources anew: a fifth of a second a file. What a test sets,
    // it puts back. Threads would save a little more, but in them no test may change the folder it runs in.
    isolate: false,
    // Vitest leaves one core to itself, which on two is half of them.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    // They end a wait in vain, and no more: a busy machine may take a minute for what takes a second.
    testTimeout: 180_000,
    hookTimeout: 240_000,
  },
});
