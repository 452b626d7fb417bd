// Whoever read the command's output goes away (`| head -1`, a closed window): the work is done all the same, without a
// stack.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdir, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openJob } from "../../src/store/open-job.js";
import { makeBoard, makeFolder, makeFrame, makeView, SPOT, writeCsv } from "./make-frames.js";
import { BIN, VERSION } from "./run-cli.js";
import { until } from "./until.js";

const FRAMES = [
  "--baseline",
  "off.csv",
  "--powered",
  "on.csv",
  "--board",
  "board.json",
  "--view",
  "view.json",
];

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await writeCsv(join(cwd, "off.csv"), makeFrame(1, 0));
  await writeCsv(join(cwd, "on.csv"), makeFrame(2, SPOT.peakK));
  await writeFile(join(cwd, "board.json"), JSON.stringify(makeBoard()));
  await writeFile(join(cwd, "view.json"), JSON.stringify(makeView()));
  for (const words of [
    ["job", "new", "job", "--device", "soil meter", "--board", "board.json"],
    ["job", "attempt", "job", ...FRAMES],
    ["find", ...FRAMES, "--out", "before"],
  ])
    expect((await run(words, { out: "all", err: "all" })).status, words.join(" ")).toBe(0);
});
afterAll(() => remove());

/** How much of a stream is read before its reader goes away. */
type Reading = "all" | "first" | "none";

function begin(words: readonly string[], { out, err }: { readonly out: Reading; readonly err: Reading }) {
  const child = spawn(process.execPath, [BIN, ...words], {
    cwd,
    env: { PATH: process.env["PATH"] ?? "" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  const said = { out: "", err: "" };
  for (const [name, reading] of [
    ["out", out],
    ["err", err],
  ] as const) {
    const stream = name === "out" ? child.stdout : child.stderr;
    if (reading === "none") stream.destroy();
    stream.setEncoding("utf8").on("data", (text: string) => {
      said[name] += text;
      if (reading === "first") stream.destroy();
    });
  }
  // "close" comes when all that was said has been read, which may be after the end.
  const ended = once(child, "close") as Promise<[number | null, NodeJS.Signals | null]>;
  return { child, said, ended };
}

async function run(words: readonly string[], reading: { readonly out: Reading; readonly err: Reading }) {
  const { said, ended } = begin(words, reading);
  const [status, signal] = await ended;
  return { status, signal, ...said };
}

describe.each([
  [["find", ...FRAMES]],
  [["find", ...FRAMES, "--json"]],
  [["compare", "before/findings.json", "before/findings.json", "--json"]],
  [["board", "check", "board.json"]],
  [["job", "show", "job"]],
  [["job", "check", "job", "--json"]],
  [["job", "index", "."]],
  [["guide", "method"]],
  [["completion", "bash"]],
  [["--help"]],
])("%j", (words) => {
  it.each([
    ["reads no more than the first words", { out: "first", err: "all" }],
    ["reads nothing", { out: "none", err: "all" }],
    ["has gone away altogether", { out: "none", err: "none" }],
  ] as const)("ends with 0 and no stack where its reader %s", async (_, reading) => {
    const { status, signal, err } = await run(words, reading);
    expect([status, signal]).toEqual([0, null]);
    expect(err).not.toMatch(/EPIPE|Error|\n\s+at /);
  });
});

describe("what goes on until it is ended", () => {
  it("a bench whose reader has gone away answers, works, and ends with 0", async () => {
    const { child, said, ended } = begin(["bench", "--jobs", "jobs", "--port", "0", "--json"], {
      out: "first",
      err: "none",
    });
    await until(() => said.out.endsWith("\n"));
    const { address, port } = JSON.parse(said.out) as { address: string; port: number };
    const first = await fetch(address, { redirect: "manual" });
    const headers = {
      cookie: first.headers.get("set-cookie")!.split(";")[0]!,
      origin: `http://127.0.0.1:${port}`,
    };
    const ask = (path: string, init: RequestInit = {}) =>
      fetch(`${headers.origin}${path}`, { ...init, headers });
    const made = await ask("/api/sample", { method: "POST" });
    expect(made.status).toBe(201);
    const { task } = (await made.json()) as { task: { id: string } };
    let state = "running";
    await until(async () => {
      const now = (await (await ask(`/api/tasks/${task.id}`)).json()) as { task: { state: string } };
      state = now.task.state;
      return state !== "running" && state !== "waiting";
    });
    expect(state).toBe("done");
    child.kill("SIGINT");
    expect(await ended).toEqual([0, null]);
  });

  it("a watch whose reader has gone away goes on adding attempts", async () => {
    await mkdir(join(cwd, "in"));
    await writeCsv(join(cwd, "in/off-1.csv"), makeFrame(11, 0));
    const quick = ["--settle", "0.2", "--gap", "0.6", "--patience", "0.6"];
    const { child, ended } = begin(["watch", "in", "--job", "job", ...quick], { out: "none", err: "none" });
    const attempts = async (): Promise<number> =>
      (await openJob(join(cwd, "job"), { toolVersion: VERSION })).attempts.length;
    const before = await attempts();
    for (const number of [1, 2]) {
      await writeCsv(join(cwd, `in/on-${number}.csv`), makeFrame(20 + number, SPOT.peakK));
      await until(async () => (await attempts()) === before + number);
    }
    child.kill("SIGINT");
    expect(await ended).toEqual([0, null]);
  });
});
