// A pack: the same bytes for the same job, and the same job out of it; zips that are no pack are refused.
import { spawnSync } from "node:child_process";
import { cp, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { strFromU8, strToU8, unzipSync, zipSync } from "fflate";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { addAttempt } from "../../../src/store/add-attempt.js";
import { appendSaid } from "../../../src/store/append-said.js";
import { checkJob } from "../../../src/store/check-job.js";
import { createJob } from "../../../src/store/create-job.js";
import { openJob } from "../../../src/store/open-job.js";
import { packJob } from "../../../src/store/pack-job.js";
import { unpackJob } from "../../../src/store/unpack-job.js";
import { type Bench, CLOCK, change, DEVICE, makeBench } from "./bench.js";

let bench: Bench;
let zip: string;
beforeAll(async () => {
  bench = await makeBench();
  zip = bench.file("job.zip");
  await createJob(bench.job, { ...DEVICE, boards: [bench.file("board.json")] }, CLOCK);
  await addAttempt(bench.job, bench.frames, CLOCK);
  await appendSaid(bench.job, [{ type: "remark", text: "Übergabe 交接" }], CLOCK);
  await packJob(bench.job, zip, CLOCK);
});
afterAll(() => bench.remove());

async function contents(folder: string): Promise<Map<string, Buffer>> {
  const found = new Map<string, Buffer>();
  for (const entry of await readdir(folder, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    if (entry.isFile()) found.set(path.slice(folder.length), await readFile(path));
  }
  return new Map([...found].sort(([a], [b]) => (a < b ? -1 : 1)));
}

async function entriesOf(file: string): Promise<Record<string, Uint8Array>> {
  return unzipSync(await readFile(file));
}

/** Write a zip of one's own and try to open it. */
async function opening(name: string, entries: Parameters<typeof zipSync>[0], limits = {}) {
  await writeFile(bench.file(`${name}.zip`), zipSync(entries));
  return unpackJob(bench.file(`${name}.zip`), bench.file(name), { ...CLOCK, limits });
}

describe("packJob", () => {
  it("opens elsewhere to the same bytes, is sound there, and packs to the same bytes again", async () => {
    const elsewhere = join(bench.folder, "andere Werkbank", "job 二");
    const { files, leftOut, job } = await unpackJob(zip, elsewhere, CLOCK);
    expect(await contents(elsewhere)).toEqual(await contents(bench.job));
    expect([files, leftOut]).toEqual([(await contents(bench.job)).size, []]);
    expect(job.seal).toBe((await openJob(bench.job, CLOCK)).seal);
    expect(await checkJob(elsewhere, CLOCK)).toMatchObject({ sound: true, attempts: [{ findings: "same" }] });
    await packJob(elsewhere, bench.file("again.zip"), {
      ...CLOCK,
      now: () => new Date("2039-08-07T01:02:03Z"),
    });
    expect(await readFile(bench.file("again.zip"))).toEqual(await readFile(zip));
  });

  it("brings the job's report and a list that says of each file what it is", async () => {
    const inside = await entriesOf(zip);
    const top = Object.keys(inside)[0]!.split("/")[0]!;
    const text = (name: string) => strFromU8(inside[`${top}/${name}`]!);
    expect(text("report/job-report.html")).toContain(`${(await openJob(bench.job, CLOCK)).seal}`);
    const list = text("contents.txt").split("\n");
    expect(list[0]).toBe(`${DEVICE.device}: a job of faultglow`);
    const listed = Object.keys(inside)
      .map((name) => name.slice(top.length + 1))
      .filter((name) => name !== "contents.txt");
    for (const name of listed) expect(list.filter((line) => line.startsWith(`${name}: `))).toHaveLength(1);
    expect(list.filter((line) => /^frames\/.*: attempt 1, baseline /.test(line))).not.toEqual([]);
    expect(list.filter((line) => /^frames\/.*: attempt 1, powered /.test(line))).not.toEqual([]);
    expect(list).toContain("attempts/001/findings.json: attempt 1: findings as JSON");
  });

  it("says of the files of withdrawn lines what they are, and of which attempt", async () => {
    const job = bench.file("taken-back");
    await cp(bench.job, job, { recursive: true });
    const attempt = (await openJob(job, CLOCK)).attempts[0]!;
    await appendSaid(job, [{ type: "withdrawal", seq: attempt.seq, reason: "slip" }], CLOCK);
    await packJob(job, bench.file("taken-back.zip"), CLOCK);
    const inside = await entriesOf(bench.file("taken-back.zip"));
    const list = strFromU8(inside[Object.keys(inside).find((name) => name.endsWith("/contents.txt"))!]!);
    expect(list).toContain("attempts/001/report.html: attempt 1 (withdrawn): report of the attempt\n");
    expect(list).toMatch(/^frames\/.*: attempt 1 \(withdrawn\), powered /m);
  });

  it("counts its report and the list among the files that a pack may hold", async () => {
    const files = (await contents(bench.job)).size;
    for (const most of [files, files + 1])
      await expect(
        packJob(bench.job, bench.file("many-made.zip"), { ...CLOCK, limits: { files: most } }),
      ).rejects.toThrow(/^E_JOB_PACK: a pack holds \d+ files, this job's would have \d+ with its report/);
    const packed = await packJob(bench.job, bench.file("just.zip"), {
      ...CLOCK,
      limits: { files: files + 2 },
    });
    expect(packed).toMatchObject({ files, noReport: null });
  });

  it("leaves out what is no part of the job, and a line that is not whole", async () => {
    const job = bench.file("untidy");
    await cp(bench.job, job, { recursive: true });
    await writeFile(join(job, "invoice.txt"), "12 hours");
    const journal = await readFile(join(job, "journal.jsonl"));
    await writeFile(join(job, "journal.jsonl"), Buffer.concat([journal, Buffer.from('{"kind":"fau')]));
    await packJob(job, bench.file("untidy.zip"), CLOCK);
    expect(await readFile(bench.file("untidy.zip"))).toEqual(await readFile(zip));
  });

  it("is a zip to others, too", async (context) => {
    const python =
      "import sys, zipfile; z = zipfile.ZipFile(sys.argv[1]); assert z.testzip() is None; print(len(z.namelist()))";
    const run = spawnSync("python3", ["-c", python, zip], { encoding: "utf8" });
    context.skip(run.error !== undefined, "there is no python3 to read the zip with");
    expect(run.stdout.trim()).toBe(String((await contents(bench.job)).size + 2));
  });

  it("refuses a job that is not sound", async () => {
    const job = bench.file("damaged");
    await cp(bench.job, job, { recursive: true });
    await change(join(job, "attempts/001/report.html"), (text) => text.replace("U5", "C2"));
    await expect(packJob(job, bench.file("never.zip"), CLOCK)).rejects.toThrow(
      /^E_JOB_PACK: the job is not sound: E_JOB_HASH: .*report\.html/,
    );
  });
});

describe("unpackJob", () => {
  it("refuses what is no zip, what is not there, and a zip without a job", async () => {
    await expect(unpackJob(bench.file("off.csv"), bench.file("x"), CLOCK)).rejects.toThrow(
      /^E_JOB_PACK: expected a zip/,
    );
    await expect(unpackJob(bench.file("none.zip"), bench.file("x"), CLOCK)).rejects.toThrow(/no such file/);
    await expect(opening("empty", { "readme.txt": strToU8("hello") })).rejects.toThrow(/no job\.json/);
  });

  it.each([
    "../journal.jsonl",
    "job/../../escaped",
    "/etc/faultglow",
    "C:/faultglow.txt",
    "job\\..\\escaped",
    "job/a\0b",
  ])("refuses a zip with the name %j", async (name) => {
    const entries = { ...(await entriesOf(zip)), [name]: strToU8("out") };
    await expect(opening(`evil-${Buffer.from(name).toString("hex")}`, entries)).rejects.toThrow(
      /^E_JOB_PACK: .*leads out of the job's folder/,
    );
    const names = await readdir(bench.folder);
    expect(names.filter((one) => one.includes("escaped") || one.startsWith("."))).toEqual([]);
  });

  it("writes a link as the text that it is, so that its hash gives it away", async () => {
    const entries: Parameters<typeof zipSync>[0] = { ...(await entriesOf(zip)) };
    const name = Object.keys(entries).find((one) => one.includes("/frames/"))!;
    // Mode of a symbolic link, 0120777, in the upper half of the attributes of a Unix zip.
    entries[name] = [strToU8("/etc/passwd"), { os: 3, attrs: 0o120777 << 16 }];
    await expect(opening("link", entries)).rejects.toThrow(/^E_JOB_PACK: .*not sound: E_JOB_HASH/);
  });

  it("refuses more than a job can be, before it unzips it", async () => {
    const entries = await entriesOf(zip);
    await expect(opening("large", entries, { fileBytes: 1000 })).rejects.toThrow(/larger than a job is/);
    await expect(opening("many", entries, { files: 5 })).rejects.toThrow(
      /expected at most 5 files in it, found \d+/,
    );
    await expect(opening("long", entries, { zipBytes: 5000 })).rejects.toThrow(/expected at most 5000 bytes/);
  });

  it("unzips no more than the zip's directory says, whatever is in it", async () => {
    const entries: Parameters<typeof zipSync>[0] = { ...(await entriesOf(zip)) };
    const name = Object.keys(entries).find((one) => one.includes("/frames/"))!;
    // 64 MB of zeros, whose size the directory states as 10.
    entries[name] = new Uint8Array(64 * 1024 * 1024);
    const bytes = Buffer.from(zipSync(entries));
    const at = bytes.lastIndexOf(name) - 46;
    expect(bytes.readUInt32LE(at)).toBe(0x02014b50);
    bytes.writeUInt32LE(10, at + 24);
    await writeFile(bench.file("bomb.zip"), bytes);
    await expect(unpackJob(bench.file("bomb.zip"), bench.file("bomb"), CLOCK)).rejects.toThrow(
      /^E_JOB_PACK: the check sum of "frames\//,
    );
  });

  it("takes a zip that a person made of the folder, and leaves what is no part of it", async () => {
    const entries: Record<string, Uint8Array> = {};
    for (const [name, bytes] of await contents(bench.job)) entries[`kept${name}`] = bytes;
    const { leftOut } = await opening("by-hand", {
      ...entries,
      "kept/notes.txt": strToU8("mine"),
      "kept/empty/": new Uint8Array(),
    });
    expect(leftOut).toEqual(["kept/notes.txt"]);
    expect(await checkJob(bench.file("by-hand"), { ...CLOCK, recompute: false })).toMatchObject({
      sound: true,
      problems: [],
    });
  });

  it("refuses a folder that holds something", async () => {
    await mkdir(bench.file("taken"));
    await writeFile(join(bench.file("taken"), "mine.txt"), "");
    await expect(unpackJob(zip, bench.file("taken"), CLOCK)).rejects.toThrow(/^E_JOB_EXISTS: .*mine\.txt/);
  });
});
