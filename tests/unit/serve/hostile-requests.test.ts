// What no page of ours sends: too much, too slowly, half of it, other shapes, other places.
import { createHash } from "node:crypto";
import { readdir, readFile, utimes, writeFile } from "node:fs/promises";
import { connect } from "node:net";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench, type TestBench } from "./bench-client.js";

let bench: TestBench;
let job: string;
let folder: string;
beforeAll(async () => {
  bench = await openBench({
    limits: { fileBytes: 100_000, jsonBytes: 20_000, stallMs: 300, headMs: 1000, requestMs: 20_000 },
  });
  ({ job } = await bench.call("makeJob", { body: { device: "X1" } }));
  folder = join(bench.folder, (await bench.call("jobState", { job })).folder);
});
afterAll(() => bench.stop());

/** What lies in the inbox, and in its folder for what is being received. */
const inbox = async (): Promise<string[]> =>
  (await readdir(join(folder, "inbox"), { recursive: true })).filter((name) => name !== ".receiving");
const upload = (name: string) => `/api/jobs/${job}/inbox?name=${encodeURIComponent(name)}`;
const code = ({ text }: { text: string }): string => JSON.parse(text).error.code;

/** Send lines and wait, as a client that stalls does. @returns all that the server said before it hung up. */
function stall(lines: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(bench.port, "127.0.0.1", () => socket.write(lines));
    let said = "";
    socket.setEncoding("utf8").on("data", (text: string) => {
      said += text;
    });
    socket.on("error", () => {});
    socket.on("close", () => resolve(said));
  });
}

/** Wait until something is so; the test's own time limit ends a wait in vain. */
async function until(isSo: () => Promise<boolean>): Promise<void> {
  while (!(await isSo())) await new Promise((done) => setTimeout(done, 5));
}

describe("places outside the job", () => {
  beforeAll(() => writeFile(join(bench.folder, "secret.json"), "secret"));

  it.each([
    "/../secret.json",
    "/assets/../../secret.json",
    "/assets/..%2f..%2fsecret.json",
    "/assets/%2e%2e/%2e%2e/package.json",
    "/jobs/../../package.json/../assets/index.html",
    "/api/jobs/..%2fsecret.json",
    "/api/jobs/JOB/files/..%2f..%2f..%2fsecret.json",
    "/api/jobs/JOB/files/job.json",
    "/api/jobs/JOB/attempts/1/files/..%2fattempt.json",
    "/api/jobs/JOB/attempts/1/files/__proto__",
    "/api/jobs/JOB/inbox/..%2f..%2fjob.json/file",
    "/api/jobs/JOB/drafts/..%2f..%2fjob",
    "/api/jobs/JOB/boards/..%2fjob",
    "/api/jobs/__proto__",
    "/api/jobs/constructor",
    "/api/tasks/__proto__",
  ])("%s leads nowhere", async (path) => {
    const answer = await bench.raw("GET", path.replace("JOB", job), bench.own);
    expect([400, 404, 500]).toContain(answer.status);
    expect(answer.text).not.toMatch(/secret"|"kind"|dependencies/);
    // 500 comes from the page alone, where the build has none.
    if (answer.status === 500) expect(answer.text).toContain("The page is missing");
  });

  it.each([
    "../../../evil.csv",
    "..\\..\\evil.csv",
    "/etc/evil.csv",
    "a\u0000b.csv",
    "\u202egnp.csv",
    "...",
    "con.csv",
  ])("a file called %j stays in the inbox, under its hash", async (name) => {
    const bytes = new TextEncoder().encode(`20,21,${Math.random()}\n22,23,24\n25,26,27\n`);
    const { file } = await bench.call("addToInbox", { job, name, bytes });
    expect(file.sha256).toBe(createHash("sha256").update(bytes).digest("hex"));
    expect(file.names[0]).not.toMatch(/\.\.\/|\\|\p{Cc}|\p{Cf}|^\//u);
    // What is being written about it just now has a name of its own for a moment.
    const allowed = /^(?:[0-9a-f]{64}\.[a-z0-9.]+|\.[0-9a-f]{64}\.about\.json\.[0-9a-f-]{36}\.tmp)$/;
    for (const kept of await inbox()) expect(kept).toMatch(allowed);
  });

  it("a board of an attempt can't be a file of this machine", async () => {
    const { files } = await bench.read(job);
    const [one] = files.map(({ sha256 }) => sha256);
    const body = { baseline: [one!], powered: [one!], board: join(bench.folder, "secret.json") };
    await expect(bench.call("makeAttempt", { job, body })).rejects.toMatchObject({
      words: { code: "E_JOB_BOARD" },
    });
  });
});

describe("too much", () => {
  it("is refused by its own word before it comes", async () => {
    const said = await stall(
      `POST ${upload("big.csv")} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nOrigin: ${bench.home}\r\nCookie: ${bench.cookie}\r\nContent-Length: 99999999\r\n\r\n`,
    );
    expect(said).toMatch(/^HTTP\/1.1 413 /);
    expect(said).toContain("E_BENCH_LARGE");
  });

  it("is refused while it comes, where it does not say how much it is", async () => {
    const before = await inbox();
    const chunk = `ffff\r\n${"7".repeat(0xffff)}\r\n`;
    const said = await stall(
      `POST ${upload("big.csv")} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nOrigin: ${bench.home}\r\nCookie: ${bench.cookie}\r\nTransfer-Encoding: chunked\r\n\r\n${chunk.repeat(3)}`,
    );
    expect(said).toMatch(/^HTTP\/1.1 413 /);
    expect(await inbox()).toEqual(before);
  });

  it("of JSON is refused", async () => {
    const headers = { ...bench.own, "content-type": "application/json" };
    const answer = await bench.raw("POST", "/api/jobs", headers, `"${"x".repeat(30_000)}"`);
    expect([answer.status, code(answer)]).toEqual([413, "E_BENCH_LARGE"]);
  });

  it("in the head is refused", async () => {
    const headers = { ...bench.own, "x-long": "x".repeat(20_000) };
    expect((await bench.raw("GET", "/api/jobs", headers)).status).toBe(431);
  });
});

describe("too slowly", () => {
  it("a file that stops coming is given up, and leaves nothing", async () => {
    const before = await inbox();
    const said = await stall(
      `POST ${upload("slow.csv")} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nOrigin: ${bench.home}\r\nCookie: ${bench.cookie}\r\nContent-Length: 50\r\n\r\n20,21,22`,
    );
    expect(said).toMatch(/^HTTP\/1.1 408 /);
    expect(said).toContain("E_BENCH_SLOW");
    expect(await inbox()).toEqual(before);
  });

  it("a head that never ends is given up", async () => {
    const said = await stall(`GET /api/jobs HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nX-Slow: `);
    expect(said === "" || said.startsWith("HTTP/1.1 408 ")).toBe(true);
  });

  it("many at once that stall keep nobody else from an answer", async () => {
    const head = `POST ${upload("slow.csv")} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nOrigin: ${bench.home}\r\nCookie: ${bench.cookie}\r\nContent-Length: 50\r\n\r\n`;
    const stalled = Array.from({ length: 60 }, () => stall(head));
    expect((await bench.call("listJobs", {})).jobs).toHaveLength(1);
    for (const said of await Promise.all(stalled)) expect(said).toMatch(/^HTTP\/1.1 408 /);
  });
});

describe("half of it", () => {
  it("an upload that breaks off leaves nothing behind, and the bench goes on", async () => {
    const before = await inbox();
    const socket = connect(bench.port, "127.0.0.1", () =>
      socket.write(
        `POST ${upload("torn.csv")} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nOrigin: ${bench.home}\r\nCookie: ${bench.cookie}\r\nContent-Length: 500\r\n\r\n20,21`,
      ),
    );
    socket.on("error", () => {});
    const isThere = async (): Promise<boolean> => (await inbox()).length > before.length;
    await until(isThere);
    socket.destroy();
    await until(async () => !(await isThere()));
    expect(await inbox()).toEqual(before);
    expect((await bench.call("listJobs", {})).jobs).toHaveLength(1);
  });
});

describe("other shapes", () => {
  const json = { "content-type": "application/json" };
  it.each([
    ["POST", "/api/jobs", "{"],
    ["POST", "/api/jobs", "null"],
    ["POST", "/api/jobs", "[]"],
    ["POST", "/api/jobs", '{"device":"   "}'],
    ["POST", "/api/jobs", '{"device":7}'],
    ["POST", "/api/jobs", '{"__proto__":{"device":"X"}}'],
    ["POST", "/api/jobs", "\xff\xfe"],
    ["POST", "/api/jobs/JOB/said", '{"said":[]}'],
    ["POST", "/api/jobs/JOB/said", '{"said":[{"type":"attempt","number":1,"sha256":"../../x"}]}'],
    [
      "POST",
      "/api/jobs/JOB/said",
      `{"said":[{"type":"board","name":"x","file":"x","sha256":"${"0".repeat(64)}"}]}`,
    ],
    ["POST", "/api/jobs/JOB/attempts", '{"baseline":["../x"],"powered":["../x"]}'],
    ["POST", "/api/jobs/JOB/boards", '{"map":{"kind":"faultglow/board"}}'],
    ["PATCH", "/api/jobs/JOB/inbox", '{"files":["x"],"role":"hot"}'],
    ["POST", "/api/jobs/JOB/place", '{"frame":1}'],
    ["POST", "/api/jobs/JOB/report", '{"for":"everyone"}'],
    ["POST", "/api/jobs/JOB/watch", '{"folder":""}'],
  ])("%s %s %s is refused, with what is wrong", async (method, path, body) => {
    const bytes = Uint8Array.from(body, (letter) => letter.charCodeAt(0));
    const answer = await bench.raw(method, path.replace("JOB", job), { ...bench.own, ...json }, bytes);
    expect([answer.status, code(answer)]).toEqual([400, "E_BENCH_REQUEST"]);
    expect(JSON.parse(answer.text).error.problem).toMatch(/^expected .*, found |is missing/);
  });

  it("JSON of many thousand brackets is refused where it never closes, and else no fault of the server", async () => {
    const answer = await bench.raw("POST", "/api/jobs", { ...bench.own, ...json }, "[".repeat(19_000));
    expect([answer.status, code(answer)]).toEqual([400, "E_BENCH_REQUEST"]);
    const deep = `{"draft":${"[".repeat(9_000)}${"]".repeat(9_000)}}`;
    const draft = await bench.raw("PUT", `/api/jobs/${job}/drafts/deep`, { ...bench.own, ...json }, deep);
    expect([200, 400]).toContain(draft.status);
  });

  it("a map that can't be is refused by its own code", async () => {
    const outline = [
      [0, 0],
      [9, 7],
      [9, 0],
      [0, 7],
    ];
    const body = {
      map: {
        kind: "faultglow/board" as const,
        version: 1 as const,
        outline: outline as [number, number][],
        regions: [],
      },
    };
    await expect(bench.call("saveBoard", { job, body })).rejects.toMatchObject({
      status: 422,
      words: { code: "E_BOARD_POLYGON" },
    });
  });

  it("files that are no frames are kept, and said to be none", async () => {
    const zip = new TextEncoder().encode("PK\u0003\u0004 and so on");
    await bench.call("addToInbox", { job, name: "frames.zip", bytes: zip });
    const { files } = await bench.read(job);
    const file = files.find(({ names }) => names.includes("frames.zip"))!;
    expect([file.sort, file.role, file.error!.code]).toEqual(["unreadable", null, "E_FRAME_TYPE"]);
  });

  it("an inbox of a newer version is refused, in every request that would read or change it", async () => {
    const { job: other } = await bench.call("makeJob", { body: { device: "from later on" } });
    const state = await bench.call("jobState", { job: other });
    const bytes = new TextEncoder().encode("20.5,21.5\n22.5,23.5");
    const { file } = await bench.call("addToInbox", { job: other, name: "a.csv", bytes });
    await bench.read(other);
    const inbox = join(bench.folder, state.folder, "inbox");
    const path = join(inbox, `${file.sha256}.about.json`);
    const kept = (await readFile(path, "utf8")).replace('"version": 1', '"version": 2');
    await writeFile(path, kept);
    // A folder whose stamp stayed the same is trusted for two seconds.
    await utimes(inbox, new Date(), new Date(Date.now() + 5000));
    const refused = { status: 422, words: { code: "E_JOB_KIND" } };
    const files = [file.sha256];
    await expect(bench.call("jobState", { job: other })).rejects.toMatchObject(refused);
    await expect(bench.call("inbox", { job: other })).rejects.toMatchObject(refused);
    const again = { job: other, name: "b.csv", bytes };
    await expect(bench.call("addToInbox", again)).rejects.toMatchObject(refused);
    const body = { baseline: files, powered: files };
    await expect(bench.call("makeAttempt", { job: other, body })).rejects.toMatchObject(refused);
    expect(await readFile(path, "utf8")).toBe(kept);
    // The other jobs are not held up by it.
    expect((await bench.call("jobState", { job })).id).toBe(job);
  });

  it("methods and addresses that there are not are answered", async () => {
    expect((await bench.raw("PUT", "/api/jobs", bench.own)).status).toBe(404);
    expect((await bench.raw("TRACE", "/", bench.own)).status).toBeGreaterThanOrEqual(400);
    const nothing = await bench.raw("GET", "/api/nothing", bench.own);
    expect([nothing.status, code(nothing)]).toEqual([404, "E_BENCH_NONE"]);
  });
});

describe("many at once", () => {
  // With the limits that people get.
  let bench: TestBench;
  beforeAll(async () => {
    bench = await openBench();
  });
  afterAll(() => bench.stop());

  it("200 files dropped in one moment are all kept, each once", async () => {
    const { job: busy } = await bench.call("makeJob", { body: { device: "busy" } });
    const names = Array.from({ length: 200 }, (_, i) => `burst/frame-${i + 1}.csv`);
    const answers = await Promise.all(
      names.map((name, i) => {
        const rows = [0, 1, 2, 3].map((y) =>
          [0, 1, 2, 3, 4].map((x) => 20 + 0.1 * x + 0.01 * y + 0.001 * i).join(","),
        );
        return bench.call("addToInbox", {
          job: busy,
          name,
          bytes: new TextEncoder().encode(`${rows.join("\n")}\n`),
        });
      }),
    );
    expect(new Set(answers.map(({ file }) => file.sha256)).size).toBe(200);
    const { files } = await bench.read(busy);
    expect(files.map((file) => file.names[0])).toEqual(names);
    expect(files.every(({ frame }) => frame?.width === 5 && frame.height === 4)).toBe(true);
  });
});
