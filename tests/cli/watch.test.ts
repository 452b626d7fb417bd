// The watch in a real folder. Waits are as short as they can be: a file is whole after 0.2 s, a group after 0.8 s.
import { type ChildProcess, spawn } from "node:child_process";
import { cp, mkdir, readdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { makeFolder, makeFrame, SPOT, writeCsv } from "./make-frames.js";
import { BIN, PROJECT, runCli } from "./run-cli.js";
import { until } from "./until.js";

const QUICK = ["--settle", "0.2", "--gap", "0.8", "--patience", "0.6", "--no-report"];

let cwd: string;
let remove: () => Promise<void>;
const running = new Set<ChildProcess>();
beforeEach(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await mkdir(join(cwd, "in"));
  expect((await runCli(["job", "new", "job", "--device", "soil meter"], { cwd })).status).toBe(0);
});
afterEach(async () => {
  for (const child of running) child.kill("SIGKILL");
  running.clear();
  await remove();
});

interface Watch {
  readonly child: ChildProcess;
  out: string;
  err: string;
  readonly ended: Promise<{ status: number | null; signal: NodeJS.Signals | null }>;
}

/** Begin a watch that runs until it is ended. */
function begin(...words: string[]): Watch {
  const child = spawn(process.execPath, [BIN, "watch", "in", "--job", "job", ...QUICK, ...words], {
    cwd,
    env: { PATH: process.env["PATH"] ?? "" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.add(child);
  const ended = new Promise<{ status: number | null; signal: NodeJS.Signals | null }>((resolve) => {
    child.on("close", (status, signal) => resolve({ status, signal }));
  });
  const watch: Watch = { child, out: "", err: "", ended };
  child.stdout!.setEncoding("utf8").on("data", (text: string) => (watch.out += text));
  child.stderr!.setEncoding("utf8").on("data", (text: string) => (watch.err += text));
  return watch;
}

const drop = (name: string, seed: number, peakK: number) =>
  writeCsv(join(cwd, "in", name), makeFrame(seed, peakK));
const once = (...words: string[]) =>
  runCli(["watch", "in", "--job", "job", ...QUICK, "--once", ...words], { cwd });

/** Names of the powered frames of each attempt of the job. */
async function poweredNames(): Promise<string[][]> {
  const numbers = await readdir(join(cwd, "job/attempts")).catch(() => []);
  const attempts = numbers.sort().map(async (number) => {
    const attempt = JSON.parse(await readFile(join(cwd, "job/attempts", number, "attempt.json"), "utf8"));
    return attempt.views[0].powered.map((frame: { name: string }) => frame.name);
  });
  return Promise.all(attempts);
}
const isSound = async () =>
  expect(await runCli(["job", "check", "job"], { cwd })).toMatchObject({ status: 0 });

describe("faultglow watch", () => {
  it("turns what drops in into attempts, sets bad files aside, and ends with Ctrl-C", async () => {
    const watch = begin("--volts", "1.8", "--amps", "0.2");
    await until(() => watch.err.includes("Watching in"));
    await drop("off-1.csv", 1, 0);
    await drop("off-2.csv", 2, 0);
    await writeFile(join(cwd, "in/on-0.csv"), "no frame at all\n");
    await writeFile(join(cwd, "in/notes.md"), "no name of a frame");
    // Put into place whole, as careful programs do.
    await drop("part", 3, SPOT.peakK);
    await rename(join(cwd, "in/part"), join(cwd, "in/on-1.csv"));
    await until(() => watch.out.includes("Attempt 1"));
    await until(() => watch.err.includes("set aside"));
    await drop("on-2.csv", 4, SPOT.peakK);
    await until(() => watch.out.includes("Attempt 2"));
    watch.child.kill("SIGINT");
    expect(await watch.ended).toEqual({ status: 0, signal: null });
    expect(watch.err).toMatch(/on-0\.csv was set aside.*E_TEXT_MATRIX/);
    expect(watch.err).toMatch(/Ended: 2 attempts were added\.\n$/);
    expect(watch.out).toMatch(
      /Attempt 1 of soil meter, powered on-1\.csv, baseline off-1\.csv, off-2\.csv: job\/attempts\/001\/report\.html\n\n.*hotspot/,
    );
    expect(await poweredNames()).toEqual([
      [expect.stringContaining("on-1.csv")],
      [expect.stringContaining("on-2.csv")],
    ]);
    expect(await readdir(join(cwd, "job/aside/frames"))).toHaveLength(1);
    expect((await readdir(join(cwd, "in"))).sort()).toEqual([
      "notes.md",
      "off-1.csv",
      "off-2.csv",
      "on-0.csv",
      "on-1.csv",
      "on-2.csv",
    ]);
    expect(await readFile(join(cwd, "job/journal.jsonl"), "utf8")).toMatch(
      /Set aside: on-0\.csv \(SHA-256 [0-9a-f]{64}\): E_TEXT_MATRIX/,
    );
    await isSound();
    // A later run finds nothing left to be done, and does not set the bad file aside again.
    const later = await once();
    expect(later).toMatchObject({ status: 0, out: "" });
    expect(later.err).toMatch(/^Watching in for the job job\.\nEnded: 0 attempts were added\.\n$/);
  });

  it("does not wait for a clock that is set back, though it is again and again", async () => {
    await writeFile(
      join(cwd, "back.cjs"),
      'let ms = Date.now(); Date.now = () => (ms -= 60_000); console.error("set back");\n',
    );
    await drop("off.csv", 1, 0);
    await drop("on.csv", 2, SPOT.peakK);
    const { status, out, err } = await runCli(
      ["watch", "in", "--job", "job", ...QUICK, "--once", "--quiet"],
      { cwd, env: { NODE_OPTIONS: "--require ./back.cjs" } },
    );
    expect([status, err]).toEqual([0, "set back\n"]);
    expect(out).toMatch(/hotspot/);
  });

  it("loses nothing and takes nothing twice when it is killed while it works", async () => {
    await drop("off-1.csv", 1, 0);
    for (let i = 1; i <= 3; i++) {
      await drop(`on-${i}.csv`, 10 + i, SPOT.peakK);
      // Longer than the gap: each is an attempt of its own.
      await new Promise((done) => setTimeout(done, 900));
    }
    const stages = async () =>
      (await readdir(join(cwd, "job"))).filter((name) => name.startsWith(".adding-"));
    // What a killed one left half made is not the work of the next one.
    let left: string[] = [];
    const isAdding = async () => (await stages()).some((name) => !left.includes(name));
    // In the middle of the first attempt, and when it has just been told: before, inside and after the line in the
    // journal.
    const moments: readonly ((watch: Watch) => Promise<boolean>)[] = [
      isAdding,
      isAdding,
      async ({ out }) => out !== "",
    ];
    for (const isMoment of moments) {
      const watch = begin();
      await until(() => isMoment(watch));
      watch.child.kill("SIGKILL");
      expect((await watch.ended).signal).toBe("SIGKILL");
      left = await stages();
    }
    expect((await once()).status).toBe(0);
    expect(
      (await poweredNames())
        .flat()
        .map((name) => name.replace(/^.*\//, ""))
        .sort(),
    ).toEqual(["on-1.csv", "on-2.csv", "on-3.csv"]);
    await isSound();
  });

  it("prints a line of JSON for each thing that happens", async () => {
    await drop("a-off.csv", 1, 0);
    await drop("b-on.csv", 2, SPOT.peakK);
    await drop("c.csv", 3, SPOT.peakK);
    await writeFile(join(cwd, "in/d-on.csv"), "21;22\nx");
    const { status, out, err } = await once("--json");
    expect([status, err.replace(/^.*(?:set aside|E_WATCH_ROLE).*\n/gm, "")]).toEqual([0, ""]);
    const facts = out
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line));
    expect(facts.map(({ type }) => type).sort()).toEqual(["attempt", "setAside", "waiting"]);
    expect(facts.find(({ type }) => type === "attempt")).toMatchObject({
      number: 1,
      baseline: ["a-off.csv"],
      powered: ["b-on.csv"],
    });
    expect(err).toMatch(/^E_WATCH_ROLE: nothing tells whether c\.csv is baseline or powered/m);
  });

  it("tells roles by patterns and by order", async () => {
    await mkdir(join(cwd, "in/x"));
    await drop("x/1.csv", 1, 0);
    await new Promise((done) => setTimeout(done, 900));
    await drop("2.csv", 2, SPOT.peakK);
    expect((await once("--baseline-names", "x/*")).out).toMatch(/powered 2\.csv, baseline x\/1\.csv/);
    expect((await runCli(["job", "new", "job2", "--device", "meter"], { cwd })).status).toBe(0);
    const ordered = await runCli(
      ["watch", "in", "--job", "job2", ...QUICK, "--once", "--order", "--older", "--quiet"],
      { cwd },
    );
    expect(ordered).toMatchObject({ status: 0, err: "" });
    expect(ordered.out).toMatch(/hotspot/);
  });

  it("prints warnings with --quiet, each once: of the map, and of a rail that it has not", async () => {
    const map = JSON.parse(await readFile(join(PROJECT, "sample-frames/board.json"), "utf8"));
    const again = { ...map.regions.find(({ ref }: { ref: string }) => ref === "U2"), ref: "U2B" };
    await writeFile(join(cwd, "map.json"), JSON.stringify({ ...map, regions: [...map.regions, again] }));
    const attempt = join(PROJECT, "sample-frames/attempt-1");
    await cp(join(attempt, "baseline/frame-1.csv"), join(cwd, "in/off.csv"));
    await cp(join(attempt, "powered/frame-1.csv"), join(cwd, "in/on.csv"));
    const board = ["--board", "map.json", "--view", join(attempt, "view-top.json"), "--rail", "VSIS"];
    const { status, out, err } = await runCli(
      ["watch", "in", "--job", "job", ...QUICK, "--once", "--older", ...board, "--quiet"],
      { cwd },
    );
    expect([status, out]).toEqual([0, expect.stringMatching(/^C6 .*\n$/)]);
    expect(err.match(/^Warning: map\.json, at regions\[/gm)).toHaveLength(1);
    expect(err.match(/^Warning: Line 2 of the journal names the rail/gm)).toHaveLength(1);
  });

  it("refreshes the report of the job", async () => {
    await drop("off.csv", 1, 0);
    await drop("on.csv", 2, SPOT.peakK);
    const words = QUICK.filter((word) => word !== "--no-report");
    const { status, err } = await runCli(["watch", "in", "--job", "job", ...words, "--once", "--quiet"], {
      cwd,
    });
    expect([status, err]).toEqual([0, ""]);
    expect(await readdir(join(cwd, "job/report"))).toContain("job-report.html");
  });

  it("refuses a second watch for the same job while the first one runs", async () => {
    const first = begin();
    await until(() => first.err.includes("Watching in"));
    const second = await once();
    expect(second.status).toBe(2);
    expect(second.err).toMatch(/^E_WATCH_TWICE: process \d+ .*lock\.watch/);
    first.child.kill("SIGTERM");
    expect(await first.ended).toEqual({ status: 0, signal: null });
    expect((await once()).status).toBe(0);
  });

  it.each([
    [["gone", "--job", "job"], /^E_WATCH_FOLDER: .*there is no such folder \(gone\)/],
    [["job/attempts", "--job", "job"], /^E_WATCH_FOLDER: .*lies in it/],
    [["job", "--job", "job"], /^E_WATCH_FOLDER: .*job's own/],
    [["in", "--job", "gone"], /^E_JOB_NONE/],
    [["in"], /^E_USAGE: .*--job/],
    [["in", "--job", "job", "--gap", "0"], /^E_USAGE: --gap/],
    [["in", "--job", "job", "--order", "--baseline-names", "a*"], /^E_USAGE: --order came with/],
    [["in", "--job", "job", "--cycle", "8"], /^E_USAGE: --cycle came without --rate/],
  ])("refuses %j", async (words, message) => {
    const { status, out, err } = await runCli(["watch", ...words], { cwd });
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(message);
  });
});
