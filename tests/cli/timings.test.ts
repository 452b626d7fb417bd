import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { makeFolder, makeFrame, SPOT, writeCsv } from "./make-frames.js";
import { runCli } from "./run-cli.js";

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await writeCsv(join(cwd, "off.csv"), makeFrame(11, 0));
  await writeCsv(join(cwd, "on.csv"), makeFrame(13, SPOT.peakK));
});
afterAll(() => remove());

const PAIR = ["find", "--baseline", "off.csv", "--powered", "on.csv"];

test("--timings says on the standard error what each part took, and that its parts are the whole", async () => {
  const plain = await runCli([...PAIR, "--json"], { cwd });
  const { status, out, err } = await runCli([...PAIR, "--json", "--timings"], { cwd });
  expect([status, out]).toEqual([0, plain.out]);
  const rows = err
    .trimEnd()
    .split("\n")
    .map((line) => /^(\w+) +(\d+\.\d) ms$/.exec(line)!.slice(1));
  expect(rows.map(([stage]) => stage)).toEqual([
    "start",
    "read",
    "board",
    "clean",
    "align",
    "rise",
    "hotspots",
    "suspects",
    "findings",
    "report",
    "all",
  ]);
  const ms = rows.map(([, value]) => Number(value));
  const parts = ms.slice(0, -1).reduce((sum, value) => sum + value, 0);
  // Each of eleven numbers is rounded to a tenth.
  expect(Math.abs(parts - ms.at(-1)!)).toBeLessThan(0.56);
});

test("without it nothing of the time is said", async () => {
  expect((await runCli(PAIR, { cwd })).err).toBe("");
});
