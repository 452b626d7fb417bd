// A job whose report can't be made is packed all the same, and answer, list and command say so.
import { readFile } from "node:fs/promises";
import { strFromU8, unzipSync } from "fflate";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { openOutput } from "../../../src/cli/command-output.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { fakeSurroundings } from "../cli/fake-surroundings.js";
import { type Bench, beginJob, CLOCK, makeBench } from "./bench.js";

// Files share their modules: those that pack are loaded anew, with a report that fails, and again after.
const REPORT = "../../../src/store/gather-report.js";
let packJob: typeof import("../../../src/store/pack-job.js")["packJob"];
let runJobPack: typeof import("../../../src/cli/run-job-pack.js")["runJobPack"];
let bench: Bench;
beforeAll(async () => {
  vi.resetModules();
  vi.doMock(REPORT, async () => {
    const { ToolError } = await import("../../../src/core/errors.js");
    return {
      gatherReport: async () => {
        throw new ToolError("E_JOB_HASH", {
          problem: "the frame on.csv reads otherwise",
          fix: "Take it from a copy",
        });
      },
    };
  });
  ({ packJob } = await import("../../../src/store/pack-job.js"));
  ({ runJobPack } = await import("../../../src/cli/run-job-pack.js"));
  bench = await makeBench();
  await beginJob(bench);
  await appendSaid(bench.job, [{ type: "remark", text: "hot" }], CLOCK);
});
afterAll(async () => {
  vi.doUnmock(REPORT);
  vi.resetModules();
  await bench.remove();
});

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
