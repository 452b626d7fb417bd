import { expect, test } from "vitest";
import { stageTimer } from "../../../src/cli/stage-timer.js";

test("time since the last end belongs to the part that ended, and parts that come again add up", () => {
  const times = [40, 75, 175, 180, 380];
  const timer = stageTimer(() => times.shift()!);
  for (const stage of ["start", "read", "clean", "read", "sources"]) timer.ended(stage);
  expect(timer.lines()).toBe(
    [
      "start       40.0 ms",
      "read        40.0 ms",
      "clean      100.0 ms",
      "sources    200.0 ms",
      "all        380.0 ms",
      "",
    ].join("\n"),
  );
});
