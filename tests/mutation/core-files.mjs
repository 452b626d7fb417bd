// mutation: files whose every line decides what is said of a part, and the tests that have to notice a change in them.
import { readdirSync } from "node:fs";

/** Files that are changed. */
export const CORE = [
  "src/rise/subtract-frames.ts",
  "src/rise/weigh-frames.ts",
  "src/rise/local-contrast.ts",
  "src/rise/remove-drift.ts",
  "src/hotspots/detect-patches.ts",
  "src/hotspots/split-blobs.ts",
  "src/hotspots/locate-source.ts",
  "src/hotspots/combine-places.ts",
  "src/sources/average-powers.ts",
  "src/sources/beside-face.ts",
  "src/sources/cooled-pixels.ts",
  "src/sources/ends-sharply.ts",
  "src/sources/heat-or-mirror.ts",
  "src/sources/least-heat-step.ts",
  "src/sources/log-step.ts",
  "src/sources/mirrored-share.ts",
  "src/sources/mirrored-room.ts",
  "src/sources/odds-over-states.ts",
  "src/sources/shiny-chance.ts",
  "src/suspects/weigh-alternatives.ts",
  "src/suspects/weigh-sides.ts",
  "src/suspects/expected-gain.ts",
  "src/compare/judge-heat.ts",
  "src/readings/join-readings.ts",
];

/** Folders of tests that are quick, and single files beside them: a slow one would be run for hundreds of changes. */
const TESTS = {
  "tests/unit/rise": ["subtract-frames", "weigh-frames", "remove-drift", "local-contrast"],
  "tests/unit/hotspots": null,
  "tests/unit/sources": [
    "average-powers",
    "beside-face",
    "cooled-pixels",
    "ends-sharply",
    "heat-or-mirror",
    "least-heat-step",
    "mirrored-share",
    "mirrored-room",
    "odds-over-states",
    "shiny-chance",
  ],
  "tests/unit/suspects": null,
  "tests/unit/compare": null,
  "tests/unit/readings": null,
  "tests/property/hotspots": null,
  "tests/property/suspects": null,
  "tests/property/compare": null,
  "tests/property/readings": null,
};

/** Their paths. */
export function testsOfCore() {
  return Object.entries(TESTS).flatMap(([folder, names]) =>
    (names?.map((name) => `${name}.test.ts`) ?? readdirSync(folder, { recursive: true }))
      .filter((name) => name.endsWith(".test.ts"))
      .sort()
      .map((name) => `${folder}/${name}`),
  );
}
