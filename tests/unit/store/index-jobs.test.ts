// Jobs in a folder, found again by device, part, net, date and words.
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { JobQuery } from "../../../src/job/matches-query.js";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { createJob } from "../../../src/store/create-job.js";
import { indexJobs } from "../../../src/store/index-jobs.js";
import { shortenNames } from "../../../src/store/shorten-names.js";
import { type Bench, CLOCK, change, makeBench } from "./bench.js";

let bench: Bench;
const place = (...names: string[]): string => join(bench.folder, "jobs", ...names);

beforeAll(async () => {
  bench = await makeBench();
  await createJob(
    place("2031", "gauge"),
    {
      device: "Sluice gauge K3",
      complaint: "Startet nicht",
      at: "2031-03-01T23:30:00+01:00",
      boards: [bench.file("board.json")],
    },
    CLOCK,
  );
  await addAttempt(place("2031", "gauge"), { ...bench.frames, at: "2031-03-02T08:00:00+01:00" }, CLOCK);
  await createJob(place("meter"), { device: "moisture meter 测", at: "2031-04-10T10:00:00+01:00" }, CLOCK);
  await appendSaid(
    place("meter"),
    [
      {
        type: "reading",
        reading: { net: "VSYS", measure: "diode", value: 0.2, overRange: false, raw: ".2" },
      },
      { type: "action", action: { did: "replaced", ref: "U9" } },
    ],
    { ...CLOCK, at: "2031-04-12T10:00:00+01:00" },
  );
});
afterAll(() => bench.remove());

async function found(query: JobQuery): Promise<string[]> {
  return (await indexJobs(place(), query, CLOCK)).jobs.map(({ device }) => device);
}

describe("indexJobs", () => {
  it("lists all jobs, the latest first, with what they are about", async () => {
    const { jobs, looked, unreadable } = await indexJobs(place(), {}, CLOCK);
    expect([looked, unreadable]).toEqual([2, []]);
    expect(jobs).toMatchObject([
      {
        folder: place("meter"),
        device: "moisture meter 测",
        parts: [{ ref: "U9", as: "action" }],
        nets: ["VSYS"],
      },
      {
        folder: place("2031", "gauge"),
        attempts: 1,
        boards: ["test board"],
        parts: [{ ref: "U5", as: "suspect" }],
      },
    ]);
    expect(jobs[1]!.verdict).toContain("U5");
  });

  it.each<[JobQuery, string[]]>([
    [{ device: "sluice GAUGE" }, ["Sluice gauge K3"]],
    [{ device: "测" }, ["moisture meter 测"]],
    [{ ref: "u5" }, ["Sluice gauge K3"]],
    [{ ref: "U" }, []],
    [{ net: "vsys" }, ["moisture meter 测"]],
    [{ text: "startet" }, ["Sluice gauge K3"]],
    [{ since: "2031-04-12" }, ["moisture meter 测"]],
    [{ since: "2031-04-13" }, []],
    // By the calendar at the bench, where it was still the first of March.
    [{ until: "2031-03-01" }, ["Sluice gauge K3"]],
    [{ until: "2031-03-01T22:29:59Z" }, []],
    [{ device: "gauge", net: "VSYS" }, []],
  ])("finds by %j", async (query, devices) => {
    expect(await found(query)).toEqual(devices);
  });

  it("names jobs that can't be opened, and lists the others", async () => {
    await createJob(place("broken"), { device: "x" }, CLOCK);
    await change(place("broken", "job.json"), (text) => text.replace('"version": 1', '"version": 9'));
    await mkdir(place("nothing"));
    await writeFile(place("nothing", "readme.txt"), "");
    const { jobs, unreadable } = await indexJobs(place(), {}, CLOCK);
    expect(jobs).toHaveLength(2);
    expect(unreadable).toMatchObject([
      { folder: place("broken"), problem: expect.stringMatching(/^E_JOB_KIND/) },
    ]);
  });
});

describe("shortenNames", () => {
  it("takes as many folders as tell files apart", () => {
    expect(shortenNames(["/srv/Meier/off.csv", "/srv/Meier/on.csv"])).toEqual(["off.csv", "on.csv"]);
    expect(shortenNames(["/a/x/off/1.csv", "/a/x/on/1.csv"])).toEqual(["off/1.csv", "on/1.csv"]);
    expect(shortenNames(["./p/1.csv", "1.csv"])).toEqual(["p/1.csv", "1.csv"]);
    expect(shortenNames(["C:\\jobs\\off\\1.csv"])).toEqual(["1.csv"]);
    expect(shortenNames(["same/1.csv", "same/1.csv"])).toEqual(["1.csv", "1.csv"]);
  });
});
