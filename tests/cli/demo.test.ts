import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeFolder } from "./make-frames.js";
import { type CliRun, PROJECT, runCli } from "./run-cli.js";

let folder: string;
let remove: () => Promise<void>;
let demo: CliRun;
let truth: Map<string, string[]>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
  demo = await runCli(["demo", "--json", "--out", join(folder, "out")]);
  truth = new Map();
  for (const name of ["attempt-1", "attempt-2", "attempt-3"]) {
    const file = await readFile(join(PROJECT, "sample-frames", name, "truth.json"), "utf8");
    const { sources } = JSON.parse(file) as { sources: { ref: string; fault: boolean }[] };
    truth.set(
      name,
      sources.filter((source) => source.fault).map((source) => source.ref),
    );
  }
});
afterAll(() => remove());

describe("faultglow demo", () => {
  it("names the true part first in every attempt, and ends with 0", () => {
    const { invented, attempts } = JSON.parse(demo.out);
    expect(invented).toBe(true);
    expect(attempts.map((one: { attempt: string }) => one.attempt)).toEqual([...truth.keys()]);
    for (const { attempt, firstSuspect } of attempts)
      expect(truth.get(attempt), attempt).toContain(firstSuspect);
    expect([demo.status, demo.err]).toEqual([0, ""]);
  });

  it("writes a whole report for each attempt, which says that the frames are invented", async () => {
    for (const name of truth.keys()) {
      const files = join(folder, "out", name);
      expect((await readdir(files)).sort()).toEqual(["findings.json", "overlay.png", "report.html"]);
      expect(await readFile(join(files, "report.html"), "utf8")).toContain("Invented sample frames");
    }
  });

  it("tells a person the same, and where to look", async () => {
    const { out } = await runCli(["demo", "--out", join(folder, "again")]);
    expect(out).toMatch(/^These frames are invented/);
    expect(out.match(/Made to heat: C6\. Right\./g)).toHaveLength(2);
    expect(out).toContain(join(folder, "again", "attempt-1", "report.html"));
    const [first, second] = await Promise.all(
      ["out", "again"].map((run) => readFile(join(folder, run, "attempt-2", "report.html"))),
    );
    expect(first!.equals(second!)).toBe(true);
  });

  it("prints nothing but errors with --quiet", async () => {
    expect((await runCli(["demo", "--quiet", "--out", join(folder, "quiet")])).out).toBe("");
  });
});
