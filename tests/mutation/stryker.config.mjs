// npm run mutate: small changes in the core of the chain, each of which some test of the units has to notice.
// npm run mutate -- --mutate src/rise/subtract-frames.ts takes one file.
import { fileURLToPath } from "node:url";
import { CORE } from "./core-files.mjs";

export default {
  // Its tests are run by `--testRunner one-process`.
  plugins: [fileURLToPath(new URL("one-process-runner.mjs", import.meta.url))],
  mutate: CORE,
  // Words for people are judged by people: a changed letter of a text is no fault of the chain.
  mutator: { excludedMutations: ["StringLiteral"] },
  coverageAnalysis: "perTest",
  // Constants are read once, at loading: to change them, the process would have to begin anew for each.
  ignoreStatic: true,
  // What takes longer counts as noticed: on a busy machine a few seconds would count what is only slow.
  timeoutMS: 60_000,
  dryRunTimeoutMinutes: 60,
  // Side by side they would hold each other up, and what is only slow would count as noticed.
  concurrency: 1,
  reporters: ["clear-text", "progress-append-only"],
  clearTextReporter: { allowColor: false, logTests: false, allowEmojis: false },
  tempDirName: ".stryker-tmp",
  ignorePatterns: ["/dist", "/faultglow-out", "/reference", "/tests/browser", "/tests/evaluate", "/.git"],
  thresholds: { high: 90, low: 80, break: 80 },
};
