// What was analysed ahead: the same bytes for an attempt of the very same things, and never used for any other.
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { type AttemptRequest, addAttempt, analyseAhead } from "../../../src/store/add-attempt.js";
import { type AnalysisMemo, openAnalysisMemo } from "../../../src/store/analysis-memo.js";
import { openJob } from "../../../src/store/open-job.js";
import { makeFrame, writeCsv } from "../../cli/make-frames.js";
import { type Bench, beginJob, CLOCK, change, makeBench } from "./bench.js";

let bench: Bench;
beforeEach(async () => {
  bench = await makeBench();
  await beginJob(bench);
});
afterEach(() => bench.remove());

/** A memo that notes whether what it was asked for was there. */
function watched(): AnalysisMemo & { readonly found: boolean[] } {
  const memo = openAnalysisMemo();
  const found: boolean[] = [];
  return {
    ...memo,
    found,
    find: (...asked) => {
      const kept = memo.find(...asked);
      found.push(kept !== null);
      return kept;
    },
  };
}

/** All files of an attempt but attempt.json, whose `at` is that of the attempt. */
async function filesOf(number: number): Promise<Map<string, Buffer>> {
  const folder = join(bench.job, "attempts", String(number).padStart(3, "0"));
  const names = (await readdir(folder)).filter((name) => name !== "attempt.json");
  return new Map(
    await Promise.all(names.map(async (name) => [name, await readFile(join(folder, name))] as const)),
  );
}

const conditions = { volts: 0.9, amps: 0.278 };
const request = (): AttemptRequest => ({ ...bench.frames, conditions });

describe("analyseAhead", () => {
  it("leaves the job as it is, and an attempt of the same things gets the same bytes without being analysed", async () => {
    const memo = watched();
    const before = await openJob(bench.job, CLOCK);
    const listed = await readdir(bench.job, { recursive: true });
    await analyseAhead(bench.job, request(), { ...CLOCK, memo });
    expect((await openJob(bench.job, CLOCK)).seal).toBe(before.seal);
    expect(await readdir(bench.job, { recursive: true })).toEqual(listed);
    // What is said of no heat may be said later.
    const remark = { ...conditions, remark: "after lunch", rail: "VSYS", limitA: 0.5 };
    await addAttempt(bench.job, { ...request(), conditions: remark }, { ...CLOCK, memo });
    expect(memo.found).toEqual([false, true]);
    await addAttempt(bench.job, { ...request(), conditions: remark }, CLOCK);
    expect(await filesOf(1)).toEqual(await filesOf(2));
    const { attempts } = await openJob(bench.job, CLOCK);
    expect(attempts.map(({ attempt }) => attempt.conditions.remark)).toEqual(["after lunch", "after lunch"]);
  });

  it.each<[string, (bench: Bench) => AttemptRequest | Promise<AttemptRequest>]>([
    ["other watts", () => ({ ...request(), conditions: { ...conditions, amps: 0.1 } })],
    ["no watts", () => ({ ...request(), conditions: {} })],
    ["a rate", () => ({ ...request(), options: { rateHz: 5 } })],
    ["another rate of false alarms", () => ({ ...request(), options: { falseAlarmsPerFrame: 0.5 } })],
    ["no view", () => ({ ...request(), view: undefined })],
    [
      "one more frame",
      async ({ file, frames }) => {
        await writeCsv(file("on-2.csv"), makeFrame(13, 2.4));
        return { ...request(), powered: [...frames.powered, file("on-2.csv")] };
      },
    ],
    [
      "a frame that was changed under its name",
      async ({ file }) => {
        await writeCsv(file("on.csv"), makeFrame(14, 1.1));
        return request();
      },
    ],
    [
      "a view that was changed under its name",
      async ({ file }) => {
        await change(file("view.json"), (text) => text.replace(/"pixel":\[(\d+)/, '"pixel":[1$1'));
        return request();
      },
    ],
  ])("is not used for an attempt with %s", async (_, changed) => {
    const memo = watched();
    await analyseAhead(bench.job, request(), { ...CLOCK, memo });
    const wanted = await changed(bench);
    const [first, second] = [{ ...CLOCK, memo }, CLOCK];
    const outcome = async (options: typeof first | typeof second) =>
      addAttempt(bench.job, wanted, options).then(
        () => "made",
        (error: { code: string }) => error.code,
      );
    const outcomes = [await outcome(first), await outcome(second)];
    expect(outcomes[0]).toBe(outcomes[1]);
    expect(memo.found).toEqual([false, false]);
    if (outcomes[0] === "made") expect(await filesOf(1)).toEqual(await filesOf(2));
  });
});
