import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/browser/**"],
    globalSetup: "tests/say-left-out.ts",
    testTimeout: 60_000,
    hookTimeout: 120_000,
  },
});
