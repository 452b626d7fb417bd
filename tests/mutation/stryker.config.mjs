// npm run mutate: small changes in the core of the chain, each of which some test of the units has to notice.
// npm run mutate -- --mutate src/rise/subtract-frames.ts takes one file.

/** Files whose every line decides what is said of a part. Others can be given by `--mutate`. */
const CORE = [
  "src/rise/subtract-frames.ts",
  "src/rise/weigh-frames.ts",
  "src/rise/local-contrast.ts",
  "src/rise/remove-drift.ts",
  "src/hotspots/detect-patches.ts",
  "src/hotspots/split-blobs.ts",
  "src/hotspots/combine-places.ts",
  "src/suspects/weigh-alternatives.ts",
  "src/suspects/weigh-sides.ts",
  "src/suspects/expected-gain.ts",
  "src/compare/judge-heat.ts",
  "src/readings/join-readings.ts",
];

export default {
  testRunner: "vitest",
  vitest: { configFile: "tests/mutation/vitest.config.ts", related: false },
  mutate: CORE,
  // Words for people are judged by people: a changed letter of a text is no fault of the chain.
  mutator: { excludedMutations: ["StringLiteral"] },
  coverageAnalysis: "perTest",
  // Constants are read once, at loading: to change them, the process would have to begin anew for each.
  ignoreStatic: true,
  // What takes longer counts as noticed: on a busy machine a few seconds would count what is only slow.
  timeoutMS: 60_000,
  // Two processors, shared with other work.
  concurrency: 1,
  reporters: ["clear-text", "progress-append-only"],
  clearTextReporter: { allowColor: false, logTests: false, allowEmojis: false },
  tempDirName: ".stryker-tmp",
  ignorePatterns: ["/dist", "/faultglow-out", "/tests/browser", "/tests/evaluate", "/.git"],
  thresholds: { high: 90, low: 80, break: 80 },
};
