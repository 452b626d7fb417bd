import { once } from "node:events";
import { readdir } from "node:fs/promises";
import { createServer } from "node:net";
import { networkInterfaces } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { callApi } from "../../src/api/call-api.js";
import { makeFolder, makeFrame } from "./make-frames.js";
import { runCli } from "./run-cli.js";
import { type BenchProcess, startBenchProcess } from "./start-bench.js";
import { until } from "./until.js";

let jobs: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: jobs, remove } = await makeFolder());
});
afterAll(() => remove());

/** Ask a bench as its page would. */
async function clientOf({ address, home }: BenchProcess) {
  const first = await fetch(address, { redirect: "manual" });
  const cookie = first.headers.get("set-cookie")!.split(";")[0]!;
  const ask = (path: string, init: RequestInit): Promise<Response> =>
    fetch(`${home}${path}`, {
      ...init,
      headers: { ...(init.headers as Record<string, string>), cookie, origin: home },
    });
  return { fetch: ask };
}

describe("faultglow bench", () => {
  it("serves until Ctrl-C, and ends with 0 while a page listens and an upload is half done", async () => {
    const bench = await startBenchProcess(join(jobs, "one"));
    const client = await clientOf(bench);
    const stream = await client.fetch("/api/events", {});
    const reader = stream.body!.getReader();
    expect(new TextDecoder().decode((await reader.read()).value)).toContain('"type":"hello"');
    const { job } = await callApi("makeJob", { body: { device: "X1" } }, client);
    const half = fetch(`${bench.home}/api/jobs/${job}/inbox?name=x.csv`, {
      method: "POST",
      body: new ReadableStream({ start: (controller) => controller.enqueue(new Uint8Array(9)) }),
      duplex: "half",
    } as RequestInit).catch(() => null);
    expect(await bench.stop()).toBe(0);
    expect(bench.err()).toBe("");
    await half;
  });

  it("prints an address that only this machine has, with a token in it", async () => {
    const bench = await startBenchProcess(join(jobs, "two"));
    expect(bench.address).toMatch(new RegExp(`^http://127\\.0\\.0\\.1:${bench.port}/\\?token=[\\w-]{43}$`));
    await bench.stop();
  });

  it("can't be reached by other machines", async (context) => {
    const others = Object.values(networkInterfaces()).flatMap((all) =>
      (all ?? []).filter(({ internal, family }) => !internal && family === "IPv4"),
    );
    context.skip(others.length === 0, "this machine has no address that others could use");
    const bench = await startBenchProcess(join(jobs, "three"));
    for (const { address } of others)
      await expect(fetch(`http://${address}:${bench.port}/`)).rejects.toMatchObject({
        cause: { code: "ECONNREFUSED" },
      });
    await bench.stop();
  });

  it("says that a port is in use", async () => {
    const other = createServer().listen(0, "127.0.0.1");
    await once(other, "listening");
    const { port } = other.address() as { port: number };
    const run = await runCli(["bench", "--jobs", join(jobs, "four"), "--port", String(port)]);
    other.close();
    expect([run.status, run.out]).toEqual([2, ""]);
    expect(run.err).toMatch(/^E_BENCH_PORT: port \d+ is in use: another bench may run already/);
  });

  it("refuses words that are no port, and a folder that is a file", async () => {
    expect((await runCli(["bench", "--port", "http"])).err).toMatch(/^E_USAGE: --port needs a whole number/);
    expect((await runCli(["bench", "--port", "70000"])).status).toBe(2);
    const run = await runCli(["bench", "--jobs", "package.json", "--port", "0"]);
    expect([run.status, run.err.slice(0, 9)]).toEqual([2, "E_OUTPUT:"]);
  });
});

describe("a bench that is killed", () => {
  it("loses nothing that was dropped, said or drawn; the next one goes on", async () => {
    const folder = join(jobs, "killed");
    const first = await startBenchProcess(folder);
    const client = await clientOf(first);
    const { job } = await callApi("makeJob", { body: { device: "X1" } }, client);
    const names = ["off/a.csv", "on/a.csv", "on/b.csv"];
    for (const [i, name] of names.entries()) {
      const text = makeFrame(i + 1, i === 0 ? 0 : 2.4)
        .map((row) => row.map((value) => value.toFixed(3)).join(","))
        .join("\n");
      await callApi("addToInbox", { job, name, bytes: new TextEncoder().encode(text) }, client);
    }
    await callApi("saveDraft", { job, name: "board", body: { draft: [1, 2] } }, client);
    await callApi("say", { job, body: { said: [{ type: "remark", text: "corroded" }] } }, client);
    const { files } = await callApi("inbox", { job }, client);
    const [baseline, ...powered] = files.map(({ sha256 }) => sha256);
    const { task } = await callApi("makeAttempt", { job, body: { baseline: [baseline!], powered } }, client);
    expect(["waiting", "running"]).toContain(task.state);
    await first.kill();

    const second = await startBenchProcess(folder);
    const again = await clientOf(second);
    const state = await callApi("jobState", { job }, again);
    expect(state.remarks.map(({ text }) => text)).toEqual(["corroded"]);
    expect(state.drafts).toEqual(["board"]);
    if (state.attempts.length === 0) {
      expect(state.inbox.files.map((file) => file.names[0])).toEqual(names);
      const made = await callApi("makeAttempt", { job, body: { baseline: [baseline!], powered } }, again);
      let now = made.task;
      await until(async () => {
        ({ task: now } = await callApi("task", { task: now.id }, again));
        return now.state !== "waiting" && now.state !== "running";
      });
      expect(now).toMatchObject({ state: "done", error: null });
    }
    expect((await callApi("jobState", { job }, again)).attempts).toHaveLength(1);
    await second.stop();
    const [name] = (await readdir(folder)).filter((one) => !one.startsWith("."));
    const check = await runCli(["job", "check", join(folder, name!), "--json"]);
    expect(check.status).toBe(0);
  });
});

describe("the command line beside the bench", () => {
  it("works on the same job, and the page is told", async () => {
    const folder = join(jobs, "both");
    const bench = await startBenchProcess(folder);
    const client = await clientOf(bench);
    const { job } = await callApi("makeJob", { body: { device: "X2" } }, client);
    const stream = (await client.fetch("/api/events", {})).body!.getReader();
    const { folder: name } = await callApi("jobState", { job }, client);
    // From the first event on, every change is told.
    expect(new TextDecoder().decode((await stream.read()).value)).toContain('"type":"hello"');
    expect((await runCli(["job", "remark", join(folder, name), "seen under the microscope"])).status).toBe(0);
    let told = "";
    while (!told.includes(`{"type":"job","job":"${job}"}`)) {
      const { value, done } = await stream.read();
      if (done) throw new Error(`the stream ended with ${told}`);
      told += new TextDecoder().decode(value);
    }
    const state = await callApi("jobState", { job }, client);
    expect(state.remarks.map(({ text }) => text)).toEqual(["seen under the microscope"]);
    await bench.stop();
  });
});
