// The suspects of a job as `job show` and `job report` tell them, with the readings counted and without.
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Evidence } from "../../src/evidence/evidence-schema.js";
import { runCli } from "./run-cli.js";

let root = "";
let job = "";

async function run(...words: string[]): Promise<string> {
  const { status, out, err } = await runCli(words);
  expect(status, err).toBe(0);
  return out;
}

async function evidenceOf(...words: string[]): Promise<Evidence> {
  return (JSON.parse(await run("job", "show", job, "--json", ...words)) as { evidence: Evidence }).evidence;
}

beforeAll(async () => {
  root = await mkdtemp(join(tmpdir(), "faultglow-job-weigh-"));
  job = join(root, "job");
  await run("job", "new", job, "--device", "meter", "--board", "sample-frames/board.json", "--quiet");
  const folder = "sample-frames/attempt-1";
  const frames = ["--baseline", `${folder}/baseline`, "--powered", `${folder}/powered`];
  const view = ["--view", `${folder}/view-top.json`, "--volts", "0.9", "--amps", "0.278"];
  await run("job", "attempt", job, ...frames, ...view, "--quiet");
  await run("job", "reading", job, "--net", "VSYS", "--resistance", "46k", "--reference", "--quiet");
  await run("job", "reading", job, "--net", "VSYS", "--resistance", "3.2", "--quiet");
});

afterAll(async () => {
  await rm(root, { recursive: true, force: true });
});

describe("the suspects of a job", () => {
  it("stand in a table with what the readings weigh, which can be left out", async () => {
    const counted = await run("job", "show", job);
    // A short on its net: 0.5 where the fault pulls at it, 0.02 where not (NET_DEFAULTS).
    expect(counted).toMatch(/^Part +At fault +Still +Readings +State$/m);
    expect(counted).toMatch(/^C6 \(top\) +\d\d % +\d\d % +× 25 +open$/m);
    expect(counted).toContain("--without-readings leaves them out.");
    // What the reading means, and by which tolerance.
    expect(counted).toMatch(/^Read at +Measured +Means +Why$/m);
    expect(counted).toMatch(
      /^VSYS +resistance +short to ground +3\.20 Ω against 46\.0 kΩ ± 11\.5 kΩ: a short to ground$/m,
    );
    const left = await run("job", "show", job, "--without-readings");
    expect(left).toMatch(/^Part +At fault +Still +State$/m);
    expect(left).toMatch(/^C6 \(top\) +\d\d % +\d\d % +open$/m);
    expect(left).toContain("Readings are not counted here (--without-readings).");
  });

  it("differ by just that: what shares no net with the short gains by leaving the readings out", async () => {
    const [counted, left] = [await evidenceOf(), await evidenceOf("--without-readings")];
    expect(counted.options.useReadings).toBe(true);
    expect(left.options.useReadings).toBe(false);
    const of = (evidence: Evidence, ref: string) => evidence.suspects.find((one) => one.ref === ref)!;
    expect(of(counted, "C6").probability).toBeGreaterThan(of(left, "C6").probability);
    expect(of(counted, "C6").readingRatio).toBeCloseTo(25, 6);
    const open = counted.suspects.filter(({ state, probability }) => state === "open" && probability > 0);
    const apart = open.reduce((least, one) => (one.readingRatio! < least.readingRatio! ? one : least));
    expect(apart.readingRatio).toBeLessThan(25);
    // Beside the one on the shorted net alone it loses.
    const odds = (evidence: Evidence): number =>
      of(evidence, apart.ref).probability / of(evidence, "C6").probability;
    expect(odds(counted) / odds(left)).toBeLessThan(0.9);
    // The readings themselves are told either way.
    expect(left.readings).toHaveLength(1);
    expect(left.readings[0]).toMatchObject({ class: "short", value: 3.2 });
  });

  it("rest on readings judged by the usual limits, or by others that are given", async () => {
    const classOf = async (...words: string[]) => (await evidenceOf(...words)).readings[0]!.class;
    expect(await classOf()).toBe("short");
    // 3.2 Ω: above the usual 2 Ω of a short, and so a short only by the limit for lines that should read thousands.
    expect(await classOf("--tolerance", "far-short-ohm=3")).toBe("low");
    const wide = await evidenceOf("--tolerance", "far-short-ohm=3", "resistance-share=1");
    expect(wide.readings[0]!.class).toBe("asExpected");
    expect(wide.options).toMatchObject({ farShortOhm: 3, resistanceShare: 1 });
    const out = join(root, "limits");
    await run("job", "report", job, "--tolerance", "far-short-ohm=3", "--out", out, "--quiet");
    const page = await readFile(join(out, "job-report.html"), "utf8");
    expect(page).toMatch(/>low</);
    expect(page).not.toMatch(/>short</);
  });

  it("refuse a limit that there is not, with exit status 2", async () => {
    for (const [word, message] of [
      [
        "far-short=3",
        /E_USAGE: --tolerance needs a name and a value, found "far-short=3".*diode-share \(0\.1\)/s,
      ],
      ["diode-share", /E_USAGE: --tolerance needs a name and a value/],
      ["diode-share=wide", /E_USAGE: --tolerance diode-share needs a number/],
      ["diode-share=-1", /E_USAGE: --tolerance diode-share needs a number from 0 up/],
    ] as const) {
      const { status, out, err } = await runCli(["job", "show", job, "--tolerance", word]);
      expect([status, out]).toEqual([2, ""]);
      expect(err).toMatch(message);
    }
  });

  it("are reported with the readings, or without", async () => {
    const out = (name: string): string => join(root, name);
    await run("job", "report", job, "--out", out("with"), "--quiet");
    await run("job", "report", job, "--out", out("without"), "--without-readings", "--quiet");
    // As a person reads it: without marks, and with plain blanks.
    const page = async (name: string) =>
      (await readFile(join(out(name), "job-report.html"), "utf8"))
        .replace(/<[^>]*>/g, " ")
        .replace(/\s+/g, " ");
    const [counted, left] = [await page("with"), await page("without")];
    const has = (word: string) => [counted.includes(word), left.includes(word)];
    expect(has("VSYS 3.20 Ω")).toEqual([true, true]);
    expect(has("× 25")).toEqual([true, false]);
  });

  it("keep what was done to them", async () => {
    await run("job", "action", job, "--replaced", "C6", "--quiet");
    expect(await run("job", "show", job)).toMatch(/^C6 \(top\) +\d\d % +.*replaced, not looked at since$/m);
  });
});
