// Jobs as earlier versions have kept them (tests/reference/scripts/make-kept-job.ts): every later version opens them to
// the same words, goes on with them, and hands them over. What a later version has written is refused with a word that
// says so.
import { createHash } from "node:crypto";
import { readdirSync } from "node:fs";
import { cp, mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { appendSaid } from "../../src/store/append-said.js";
import { checkJob } from "../../src/store/check-job.js";
import { openJob } from "../../src/store/open-job.js";
import { packJob } from "../../src/store/pack-job.js";
import { unpackJob } from "../../src/store/unpack-job.js";
import { writeJobReport } from "../../src/store/write-job-report.js";
import { change } from "../unit/store/bench.js";

const DATA = new URL("data/", import.meta.url);
const packs = readdirSync(DATA).filter((name) => /^job-\d+\.\d+\.\d+\.zip$/.test(name));
const LATER = { toolVersion: "99.0.0" };

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "faultglow-kept-"));
});
afterAll(() => rm(folder, { recursive: true }));

it("there is one", () => expect(packs.length).toBeGreaterThan(0));

describe.each(packs)("%s", (pack) => {
  const version = /\d+\.\d+\.\d+/.exec(pack)![0];
  let job: string;
  beforeAll(async () => {
    job = join(folder, version, "job");
    await unpackJob(fileURLToPath(new URL(pack, DATA)), job, LATER);
  });

  it("opens to what was said", async () => {
    const opened = await openJob(job, LATER);
    expect(opened.header).toMatchObject({
      device: "sluice gauge K3",
      complaint: "does not start",
      tool: { name: "faultglow", version },
    });
    expect(opened.boards.map(({ name }) => name)).toEqual(["test board"]);
    expect(opened.readings).toMatchObject([{ net: "VSYS", measure: "diode", value: 0.2 }]);
    expect(opened.references).toHaveLength(1);
    expect(opened.actions).toMatchObject([{ did: "replaced", ref: "U5" }]);
    expect([opened.remarks, [...opened.withdrawn]]).toEqual([[], [6]]);
    expect(opened.attempts.map(({ attempt }) => attempt.number)).toEqual([1, 2]);
    expect(opened.attempts[0]!.findings.suspects[0]).toMatchObject({ ref: "U5" });
    expect(opened.attempts[1]!.findings.hotspots).toEqual([]);
  });

  it("is sound: every hash and form is what it was; another version's other digits are no fault", async () => {
    const check = await checkJob(job, { ...LATER, recompute: false });
    expect(check.sound).toBe(true);
    expect(check.problems.filter(({ severity }) => severity !== "info")).toEqual([]);
  });

  it("is gone on with, reported and packed", async () => {
    const copy = join(folder, version, "on");
    await cp(job, copy, { recursive: true });
    await appendSaid(copy, [{ type: "remark", text: "seen again" }], LATER);
    expect((await openJob(copy, LATER)).remarks).toMatchObject([{ text: "seen again" }]);
    const { html } = await writeJobReport(copy, "repairer", LATER);
    expect(await readFile(html, "utf8")).toContain("sluice gauge K3");
    await packJob(copy, join(folder, version, "again.zip"), LATER);
    expect(
      (await unpackJob(join(folder, version, "again.zip"), join(folder, version, "again"), LATER)).job
        .entries,
    ).toHaveLength(9);
  });
});

describe("what a later version has written", () => {
  let job: string;
  const fresh = async (name: string): Promise<void> => {
    job = join(folder, name);
    await unpackJob(fileURLToPath(new URL(packs.at(-1)!, DATA)), job, LATER);
  };
  const later = (text: string): string => text.replace(/"version": ?1\b/, (found) => found.replace("1", "2"));
  const NEWER = /E_JOB_KIND: .*newer/;

  it("is refused: job.json", async () => {
    await fresh("later-job");
    await change(join(job, "job.json"), later);
    await expect(openJob(job, LATER)).rejects.toThrow(NEWER);
  });

  it("is refused: a line of the journal, so that nothing is written behind what is not understood", async () => {
    await fresh("later-line");
    const path = join(job, "journal.jsonl");
    const lines = (await readFile(path, "utf8")).trimEnd().split("\n");
    const last = JSON.parse(lines.at(-1)!);
    const previous = createHash("sha256").update(lines.at(-1)!).digest("hex");
    const line = {
      ...last,
      version: 2,
      seq: last.seq + 1,
      previous,
      said: { type: "photograph", file: "x" },
    };
    await writeFile(path, `${[...lines, JSON.stringify(line)].join("\n")}\n`);
    const before = await readFile(path, "utf8");
    await expect(openJob(job, LATER)).rejects.toThrow(NEWER);
    await expect(appendSaid(job, [{ type: "remark", text: "x" }], LATER)).rejects.toThrow(NEWER);
    expect(await readFile(path, "utf8")).toBe(before);
  });

  it.each(["attempt.json", "findings.json"])("is refused: %s", async (name) => {
    await fresh(`later-${name}`);
    await change(join(job, "attempts/002", name), later);
    const check = await checkJob(job, { ...LATER, recompute: false });
    expect(check.sound).toBe(false);
    expect(check.problems.some(({ attempt }) => attempt === 2)).toBe(true);
  });

  it("leaves no job behind that was half opened", async () => {
    expect((await readdir(folder)).filter((name) => name.startsWith("."))).toEqual([]);
  });
});
