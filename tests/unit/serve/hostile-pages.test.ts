// Forms that are none, requests that are cut in the wrong places, drips, pages that fall asleep, folders that go away.
import { mkdir, readdir, rename, rm, writeFile } from "node:fs/promises";
import { connect } from "node:net";
import { basename, dirname, join } from "node:path";
import { Hono } from "hono";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { Bench } from "../../../src/serve/bench-context.js";
import { EventHub } from "../../../src/serve/event-hub.js";
import { addEventRoutes } from "../../../src/serve/event-routes.js";
import { openBench, type TestBench } from "./bench-client.js";

let bench: TestBench;
let job: string;
beforeAll(async () => {
  bench = await openBench({
    limits: { fileBytes: 100_000, jsonBytes: 20_000, stallMs: 400, headMs: 800, requestMs: 1500 },
  });
  ({ job } = await bench.call("makeJob", { body: { device: "X1" } }));
});
afterAll(() => bench.stop());

const head = (method: string, path: string, ...more: string[]): string =>
  [
    `${method} ${path} HTTP/1.1`,
    `Host: 127.0.0.1:${bench.port}`,
    `Origin: ${bench.home}`,
    `Cookie: ${bench.cookie}`,
    ...more,
    "\r\n",
  ].join("\r\n");

/** Send pieces one after the other. @returns all that the server said before it hung up. */
function say(pieces: readonly string[], pauseMs = 0): Promise<string> {
  return new Promise((resolve) => {
    let said = "";
    let at = 0;
    const socket = connect(bench.port, "127.0.0.1", () => void next());
    const next = (): void => {
      if (socket.destroyed || at === pieces.length) return;
      socket.write(pieces[at++]!, "latin1");
      setTimeout(next, pauseMs);
    };
    socket.setEncoding("latin1").on("data", (text: string) => (said += text));
    socket.on("error", () => {});
    socket.on("close", () => resolve(said));
  });
}
const goesOn = async (): Promise<void> => expect((await bench.call("listJobs", {})).jobs).toHaveLength(1);

const PART = 'Content-Disposition: form-data; name="file"; filename="../../a.csv"\r\n\r\n20,21\r\n';

describe("forms of several parts", () => {
  const forms: [string, string, string][] = [
    ["whole", "multipart/form-data; boundary=x", `--x\r\n${PART}--x--\r\n`],
    ["without an end", "multipart/form-data; boundary=x", `--x\r\n${PART}`],
    ["without a boundary", "multipart/form-data", `--x\r\n${PART}--x--\r\n`],
    ["with an empty boundary", 'multipart/form-data; boundary=""', `--\r\n${PART}----\r\n`],
    ["with a boundary of 10,000 letters", `multipart/form-data; boundary=${"x".repeat(10_000)}`, "--x"],
    ["with a head that never ends", "multipart/form-data; boundary=x", `--x\r\n${"A: b\r\n".repeat(2000)}`],
    [
      "with a thousand empty parts",
      "multipart/form-data; boundary=x",
      `${"--x\r\n\r\n\r\n".repeat(1000)}--x--`,
    ],
    ["nested", "multipart/mixed; boundary=x", `--x\r\nContent-Type: multipart/mixed; boundary=x\r\n\r\n`],
    ["with zero bytes", "multipart/form-data; boundary=\u0001", "--\u0001\r\n\u0000\r\n"],
  ];

  it.each(forms)("%s are refused where JSON is expected", async (_, type, body) => {
    const paths = ["/api/jobs", `/api/jobs/${job}/said`, `/api/jobs/${job}/attempts`];
    for (const path of paths) {
      const lines = head(
        "POST",
        path,
        `Content-Type: ${type}`,
        `Content-Length: ${body.length}`,
        "Connection: close",
      );
      const said = await say([lines, body]);
      expect(said).toMatch(/^HTTP\/1\.1 4(?:00|15|31) /);
      if (said.startsWith("HTTP/1.1 400 ") && said.includes("{")) expect(said).toContain("E_BENCH_REQUEST");
    }
    await goesOn();
  });

  it("are kept as the bytes that they are where a file is expected, and are no frame", async () => {
    const body = forms[1]![2];
    const path = `/api/jobs/${job}/inbox?name=form.csv`;
    const said = await say([
      head(
        "POST",
        path,
        `Content-Type: ${forms[1]![1]}`,
        `Content-Length: ${body.length}`,
        "Connection: close",
      ),
      body,
    ]);
    expect(said).toMatch(/^HTTP\/1\.1 201 /);
    const { files } = await bench.read(job);
    const [file] = files.filter(({ names }) => names.includes("form.csv"));
    expect(file).toMatchObject({ sort: "unreadable", bytes: body.length, frame: null });
  });
});

describe("requests that are cut in the wrong places", () => {
  const json = "Content-Type: application/json";
  it.each([
    ["two lengths", ["Content-Length: 2", "Content-Length: 20"], "{}"],
    ["a length and chunks", ["Content-Length: 2", "Transfer-Encoding: chunked"], "0\r\n\r\n"],
    ["a length below nothing", ["Content-Length: -1"], "{}"],
    ["a length that is no number", ["Content-Length: 1e3"], "{}"],
    ["chunks of no size", ["Transfer-Encoding: chunked"], "xyz\r\n{}\r\n0\r\n\r\n"],
    ["a chunk of 2^64 bytes", ["Transfer-Encoding: chunked"], "ffffffffffffffffff\r\n{}\r\n"],
    ["a header folded over lines", ["X-A: b\r\n c", "Content-Length: 2"], "{}"],
    ["a header without a name", [": b", "Content-Length: 2"], "{}"],
    ["a zero byte in a header", ["X-A: \u0000", "Content-Length: 2"], "{}"],
  ])("%s", async (_, headers, body) => {
    const said = await say([head("POST", "/api/jobs", json, ...headers, "Connection: close"), body]);
    // Nothing at all, or a refusal: never an answer to what the body was meant to be.
    expect(said).toMatch(/^(?:HTTP\/1\.1 4\d\d |$)/);
    await goesOn();
  });
});

describe("drips", () => {
  it("a byte now and then, each in its time, is not waited for for ever", async () => {
    const path = `/api/jobs/${job}/inbox?name=drip.csv`;
    const drops = Array.from({ length: 60 }, () => "7");
    const said = await say([head("POST", path, "Content-Length: 5000"), ...drops], 100);
    expect(said).toMatch(/^(?:HTTP\/1\.1 408 |$)/);
    const { files } = await bench.read(job);
    expect(files.flatMap(({ names }) => names)).not.toContain("drip.csv");
  });

  it("a header a moment is given up", async () => {
    const lines = Array.from({ length: 60 }, (_, i) => `X-${i}: y\r\n`);
    const said = await say([`GET /api/jobs HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\n`, ...lines], 100);
    expect(said).toMatch(/^(?:HTTP\/1\.1 408 |$)/);
    await goesOn();
  });
});

describe("a page that does not read its events", () => {
  it("is hung up on, one that reads is not, and nobody else waits for it", async () => {
    const events = new EventHub();
    const app = new Hono();
    const end = addEventRoutes(app, { events, toolVersion: "9.9.9" } as unknown as Bench);
    const [asleep, awake] = [await app.request("/api/events"), await app.request("/api/events")];
    const reader = awake.body!.getReader();
    let heard = 0;
    for (let i = 0; i < 3000; i++) {
      events.tell({ type: "jobs" });
      await reader.read();
      heard++;
    }
    expect(heard).toBe(3000);
    expect(events.isHeard).toBe(true);
    await reader.cancel();
    // The one that sleeps was the only other one.
    expect(events.isHeard).toBe(false);
    // It gets what had come until then, and the end.
    let waited = 0;
    const late = asleep.body!.getReader();
    while (!(await late.read()).done) waited++;
    // A thousand may wait; beside them the first event, and a sign of life every 20 s.
    expect(waited).toBeGreaterThanOrEqual(1000);
    expect(waited).toBeLessThan(1010);
    end();
  });
});

describe("a folder of jobs that goes away", () => {
  it("is said, ends nothing, and is there again when it comes back", async () => {
    const away = `${bench.folder}-away`;
    await rename(bench.folder, away);
    const upload = bench.call("addToInbox", {
      job,
      name: "late.csv",
      bytes: new TextEncoder().encode("1,2"),
    });
    const said = bench.call("say", { job, body: { said: [{ type: "remark", text: "gone" }] } });
    for (const answer of await Promise.allSettled([upload, said])) {
      expect(answer).toMatchObject({
        status: "rejected",
        reason: { words: { code: expect.stringMatching(/^E_(?:BENCH_NONE|JOB_NONE|JOB_WRITE)$/) } },
      });
    }
    // Nothing was put in its place, which would stand in the way when the drive comes back.
    expect(await readdir(dirname(bench.folder))).not.toContain(basename(bench.folder));
    // A file in its place, as a mount point may have.
    await mkdir(bench.folder);
    await writeFile(join(bench.folder, "README"), "nothing here");
    expect((await bench.call("listJobs", {})).jobs).toEqual([]);
    await rename(bench.folder, `${away}-2`);
    await rename(away, bench.folder);
    await goesOn();
    await rm(`${away}-2`, { recursive: true });
    await bench.call("say", { job, body: { said: [{ type: "remark", text: "back" }] } });
    const { remarks } = await bench.call("jobState", { job });
    expect(remarks.map(({ text }) => text)).toEqual(["back"]);
  });
});
