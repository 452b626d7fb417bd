// Disks as they fail: full, for reading only, gone. The real command on the real disk.
import { spawn } from "node:child_process";
import { chmod, cp, mkdir, mkdtemp, readdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { checkJob } from "../../src/store/check-job.js";
import { openJob } from "../../src/store/open-job.js";
import { makeFolder, makeFrame, writeCsv } from "./make-frames.js";
import { BIN, runCli, VERSION } from "./run-cli.js";
import { until } from "./until.js";

const TOOL = { toolVersion: VERSION };
const POSIX = process.platform !== "win32";

let folder: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
  await writeCsv(join(folder, "off.csv"), makeFrame(11, 0));
  await writeCsv(join(folder, "on.csv"), makeFrame(12, 2.4));
  await writeCsv(join(folder, "on-2.csv"), makeFrame(13, 3.1));
});
afterAll(() => remove());

const FRAMES = ["--baseline", "off.csv", "--powered", "on.csv"];

interface Run {
  readonly status: number | null;
  readonly out: string;
  readonly err: string;
}

/** Run the command by a shell, which sets limits first. @param limit a line of POSIX sh. */
function runLimited(limit: string, words: readonly string[], user?: number): Promise<Run> {
  return new Promise((resolve, reject) => {
    const child = spawn("sh", ["-c", `${limit}; exec "$@"`, "sh", process.execPath, BIN, ...words], {
      cwd: folder,
      env: { PATH: process.env["PATH"] ?? "" },
      stdio: ["ignore", "pipe", "pipe"],
      ...(user === undefined ? {} : { uid: user, gid: user }),
    });
    let [out, err] = ["", ""];
    child.stdout.setEncoding("utf8").on("data", (text: string) => (out += text));
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    child.on("error", reject);
    child.on("close", (status) => resolve({ status, out, err }));
  });
}

/** All files below a folder with what is in them. */
async function contentsOf(path: string): Promise<Record<string, string>> {
  const entries = await readdir(path, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  return Object.fromEntries(
    await Promise.all(files.map(async (file) => [file, await readFile(file, "latin1")] as const)),
  );
}

const expectClear = ({ status, err }: Run, begins: RegExp): void => {
  expect([status, err]).toEqual([2, expect.stringMatching(begins)]);
  // One line: no stack, and no second error behind the first.
  expect(err.trim().split("\n")).toHaveLength(1);
};

// A file may have so many blocks of 512 bytes (POSIX, ulimit -f): to the command that is a disk that has no more room
// for it.
describe.skipIf(!POSIX)("no room for a file", () => {
  it("leaves the results of an earlier run as they were, all of them", async () => {
    expect((await runCli(["find", ...FRAMES, "--out", "kept", "--quiet"], { cwd: folder })).status).toBe(0);
    const before = await contentsOf(join(folder, "kept"));
    const sizes = Object.values(before).map(({ length }) => length);
    // Room for the smallest of them, not for the largest: the first files could be written.
    const blocks = Math.ceil(Math.min(...sizes) / 512) + 2;
    expect(blocks * 512).toBeLessThan(Math.max(...sizes));
    const words = ["find", "--baseline", "off.csv", "--powered", "on-2.csv", "--out", "kept", "--quiet"];
    expectClear(
      await runLimited(`ulimit -f ${blocks}`, words),
      /^E_OUTPUT: .*the file would be too large for this disk \(kept\)/,
    );
    expect(await contentsOf(join(folder, "kept"))).toEqual(before);
  });

  it("for an attempt leaves the job as it was, and with room it goes on", async () => {
    const job = join(folder, "job-full");
    expect((await runCli(["job", "new", job, "--device", "sluice gauge"])).status).toBe(0);
    const before = await contentsOf(job);
    const words = ["job", "attempt", job, ...FRAMES, "--quiet"];
    expectClear(
      await runLimited("ulimit -f 8", words),
      /^E_JOB_WRITE: .*the file would be too large for this disk/,
    );
    expect(await contentsOf(job)).toEqual(before);
    expect(await runLimited(":", words)).toMatchObject({ status: 0 });
    expect(await checkJob(job, TOOL)).toMatchObject({ sound: true, problems: [] });
  });

  it("for a report or a pack leaves none that is cut short", async () => {
    const job = join(folder, "job-report");
    await runCli(["job", "new", job, "--device", "sluice gauge"]);
    expect((await runCli(["job", "attempt", job, ...FRAMES, "--quiet"], { cwd: folder })).status).toBe(0);
    const before = await contentsOf(job);
    expectClear(await runLimited("ulimit -f 8", ["job", "report", job]), /^E_OUTPUT: /);
    expectClear(await runLimited("ulimit -f 8", ["job", "pack", job, "--out", "job.zip"]), /^E_JOB_WRITE: /);
    expect(await contentsOf(job)).toEqual(before);
    expect((await readdir(folder)).filter((name) => /zip|tmp/.test(name))).toEqual([]);
  });
});

describe.skipIf(process.platform !== "linux")("an output that is full", () => {
  it("is said in one line, and the command does not call it success", async () => {
    const run = await runLimited("exec > /dev/full", ["find", ...FRAMES, "--json"]);
    expectClear(run, /^E_OUTPUT: expected to write the result to the output, but the disk is full/);
  });
});

// The one who tests may be allowed everything, as in a container: then the command is run as somebody who may do
// nothing.
const NOBODY = POSIX && process.getuid?.() === 0 ? 65534 : undefined;

describe.skipIf(!POSIX)("a folder that may only be read", () => {
  beforeAll(() => chmod(folder, 0o755));

  it("shows its job, and refuses to add to it or to write results into it", async (context) => {
    const job = join(folder, "job-locked");
    await runCli(["job", "new", job, "--device", "sluice gauge"]);
    for (const path of [job, ...(await readdir(job)).map((name) => join(job, name))]) {
      await chmod(path, path.endsWith("json") || path.endsWith("jsonl") ? 0o444 : 0o555);
    }
    const run = (...words: string[]): Promise<Run> => runLimited(":", words, NOBODY);
    const shown = await run("job", "show", job);
    context.skip(/EACCES|MODULE_NOT_FOUND/.test(shown.err), "the project can't be read by another user here");
    expect(shown).toMatchObject({ status: 0, out: expect.stringContaining("sluice gauge") });
    expectClear(await run("job", "remark", job, "corroded"), /^E_JOB_WRITE: .*you have no permission/);
    expectClear(await run("job", "attempt", job, ...FRAMES), /^E_JOB_WRITE: .*you have no permission/);
    expectClear(
      await run("find", ...FRAMES, "--quiet", "--out", join(job, "out")),
      /^E_OUTPUT: .*you have no permission/,
    );
    expectClear(await run("bench", "--jobs", job, "--port", "0"), /^E_OUTPUT: .*you have no permission/);
    expectClear(await run("watch", ".", "--job", job, "--once"), /^E_JOB_WRITE: .*permission/i);
    await chmod(job, 0o755);
    expect((await openJob(job, TOOL)).entries).toHaveLength(0);
  });
});

describe("a drive that is taken out", () => {
  it("between two calls is said; put back, the job goes on", async () => {
    const job = join(folder, "job-gone");
    await runCli(["job", "new", job, "--device", "sluice gauge"]);
    await rename(job, `${job}-away`);
    const refused = await runCli(["job", "remark", job, "corroded"]);
    expectClear(refused, /^E_JOB_NONE: /);
    // Nothing was put in its place, which would hide the job when the drive is back.
    expect(await readdir(folder)).not.toContain("job-gone");
    await rename(`${job}-away`, job);
    expect((await runCli(["job", "remark", job, "corroded"])).status).toBe(0);
    expect((await openJob(job, TOOL)).remarks).toMatchObject([{ text: "corroded" }]);
  });

  it("under a watch ends it with a word; put back, the next watch takes what dropped in meanwhile", async () => {
    const [job, dropped] = [join(folder, "job-watched"), join(folder, "dropped")];
    await runCli(["job", "new", job, "--device", "sluice gauge"]);
    await mkdir(dropped);
    const words = [
      "watch",
      dropped,
      "--job",
      job,
      "--settle",
      "0.2",
      "--gap",
      "0.8",
      "--no-report",
      "--quiet",
    ];
    const child = spawn(process.execPath, [BIN, ...words], { stdio: ["ignore", "pipe", "pipe"] });
    let [out, err] = ["", ""];
    child.stdout.setEncoding("utf8").on("data", (text: string) => (out += text));
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
    for (const name of ["off.csv", "on.csv"]) await cp(join(folder, name), join(dropped, name));
    await until(() => out !== "");
    await rename(job, `${job}-away`);
    await cp(join(folder, "on-2.csv"), join(dropped, "on-2.csv"));
    expectClear({ status: await ended, out, err }, /^E_JOB_[A-Z]+: .*job-watched/);
    expect(await readdir(folder)).not.toContain("job-watched");
    await rename(`${job}-away`, job);
    expect(await runCli([...words, "--once"])).toMatchObject({ status: 0, err: "" });
    const { attempts } = await openJob(job, TOOL);
    const named = attempts.map(({ attempt }) => attempt.views[0]!.powered.map(({ name }) => name));
    expect(named).toEqual([["on.csv"], ["on-2.csv"]]);
    expect((await checkJob(job, TOOL)).problems).toEqual([]);
  });

  it("with frames that were named is said by their names", async () => {
    await mkdir(join(folder, "card"), { recursive: true });
    await cp(join(folder, "off.csv"), join(folder, "card/off.csv"));
    const words = ["find", "--baseline", "card", "--powered", "gone/on.csv"];
    expectClear(await runCli(words, { cwd: folder }), /^E_FRAME_(?:READ|NONE): .*gone\/on\.csv/);
  });
});

describe.skipIf(!POSIX)("a folder that is removed while one stands in it", () => {
  it.each([
    ["bench", "--jobs", "jobs", "--port", "0"],
    ["watch", ".", "--job", "job", "--once"],
    ["doctor"],
    ["job", "pack", "job"],
  ])("is said by %s, without a stack", async (...words) => {
    const left = await mkdtemp(join(folder, "left-"));
    const run = await runLimited(`cd '${left}'; rmdir '${left}'`, words);
    expect([run.status, run.err]).toEqual([2, expect.stringMatching(/^E_(?:USAGE|JOB_NONE): [^\n]*\n$/)]);
  });
});

describe("a frame that was changed after it was taken", () => {
  it("is named by the check, and by nobody taken for what was measured", async () => {
    const job = join(folder, "job-changed");
    await runCli(["job", "new", job, "--device", "sluice gauge"]);
    await runCli(["job", "attempt", job, ...FRAMES, "--quiet"], { cwd: folder });
    const name = (await readdir(join(job, "frames")))[0]!;
    const path = join(job, "frames", name);
    await writeFile(path, (await readFile(path, "utf8")).replace("2", "3"));
    const check = await runCli(["job", "check", job]);
    expect(check.status).not.toBe(0);
    expect(check.out).toMatch(new RegExp(`^error: E_JOB_HASH: .*${name}`, "m"));
    const pack = await runCli(["job", "pack", job, "--out", join(folder, "changed.zip")]);
    expect(pack.status).toBe(2);
    expect(await readdir(folder)).not.toContain("changed.zip");
  });
});

describe("a job that is not there", () => {
  it("gets no folder, whatever is asked of it", async () => {
    const calls = [
      ["job", "report", "none-1"],
      ["job", "remark", "none-2", "x"],
      ["job", "attempt", "none-3", ...FRAMES],
      ["job", "pack", "none-4", "--out", "none-4.zip"],
      ["watch", ".", "--job", "none-5", "--once"],
      ["job", "check", "none-6"],
    ];
    for (const words of calls) expectClear(await runCli(words, { cwd: folder }), /^E_JOB_NONE: /);
    expect((await readdir(folder)).filter((name) => name.startsWith("none"))).toEqual([]);
  });
});
