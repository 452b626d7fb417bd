// A job whose report can't be made is packed all the same, and answer, list and command say so.
import { readFile } from "node:fs/promises";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { openOutput } from "../../../src/cli/command-output.js";
import { runJobPack } from "../../../src/cli/run-job-pack.js";
import { ToolError } from "../../../src/core/errors.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { packJob } from "../../../src/store/pack-job.js";
import { fakeSurroundings } from "../cli/fake-surroundings.js";
import { type Bench, beginJob, CLOCK, makeBench } from "./bench.js";

vi.mock("../../../src/store/gather-report.js", () => ({
  gatherReport: async () => {
    throw new ToolError("E_JOB_HASH", {
      problem: "the frame on.csv reads otherwise",
      fix: "Take it from a copy",
    });
  },
}));

let bench: Bench;
beforeAll(async () => {
  bench = await makeBench();
  await beginJob(bench);
  await appendSaid(bench.job, [{ type: "remark", text: "hot" }], CLOCK);
});
afterAll(() => bench.remove());

it("is packed without it, and says why and what to do", async () => {
  const zip = bench.file("job.zip");
  const packed = await packJob(bench.job, zip, CLOCK);
  expect(packed).toMatchObject({
    files: 3,
    noReport: "the frame on.csv reads otherwise. Take it from a copy.",
  });
  const inside = unzipSync(await readFile(zip));
  const names = Object.keys(inside).map((name) => name.slice(name.indexOf("/") + 1));
  expect(names).toHaveLength(4);
  expect(names).not.toContain("report/job-report.html");
  const list = strFromU8(inside[Object.keys(inside).find((name) => name.endsWith("/contents.txt"))!]!);
  expect(list).toContain("The report could not be made: the frame on.csv reads otherwise.\n");
});

it("is told of by the command, also where it is quiet", async () => {
  for (const quiet of [false, true]) {
    const surroundings = fakeSurroundings();
    const out = bench.file(`by-command-${quiet}.zip`);
    await runJobPack(bench.job, { out, quiet }, openOutput(surroundings));
    expect(surroundings.printed().err).toBe(
      "Warning: the pack holds no report, for it can't be made: the frame on.csv reads otherwise. Take it from a copy. The job itself is packed whole.\n",
    );
    expect(surroundings.printed().out).toMatch(quiet ? /^$/ : /^Packed 3 files, and the list, into /);
  }
});
