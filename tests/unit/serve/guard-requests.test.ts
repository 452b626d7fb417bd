// Who may use the bench: not other names for this machine, not other pages, nobody without the token.
import { connect } from "node:net";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { openBench, type TestBench } from "./bench-client.js";

let bench: TestBench;
beforeAll(async () => {
  bench = await openBench();
});
afterAll(() => bench.stop());

const refused = (answer: { status: number; text: string }): [number, string] => [
  answer.status,
  JSON.parse(answer.text).error.code,
];

describe("the token", () => {
  it("of the printed address becomes a cookie that no script and no other page can use", async () => {
    const answer = await bench.raw("GET", `/?token=${bench.token}`);
    expect([answer.status, answer.headers["location"]]).toEqual([303, "/"]);
    expect(answer.headers["set-cookie"]).toEqual([`${bench.cookie}; HttpOnly; SameSite=Strict; Path=/`]);
  });

  it("of another run, none, and a wrong cookie are refused", async () => {
    const wrong = `${bench.token.slice(1)}A`;
    expect((await bench.raw("GET", `/?token=${wrong}`)).status).toBe(401);
    expect((await bench.raw("GET", "/")).status).toBe(401);
    expect(refused(await bench.raw("GET", "/api/jobs"))).toEqual([401, "E_BENCH_REFUSED"]);
    const cookie = `faultglow-${bench.port}=${wrong}`;
    expect(refused(await bench.raw("GET", "/api/jobs", { cookie }))).toEqual([401, "E_BENCH_REFUSED"]);
    expect((await bench.raw("GET", "/api/jobs", { cookie: bench.cookie })).status).toBe(200);
  });

  it("opens nothing but the first page", async () => {
    expect((await bench.raw("GET", `/api/jobs?token=${bench.token}`)).status).toBe(401);
  });
});

describe("DNS rebinding", () => {
  it.each(["board.example:80", "127.0.0.1", "localhost:1", "127.0.0.1.example", "[::1]"])(
    "the host %j is refused, even with the cookie",
    async (host) => {
      const name = host.includes(":") ? host : `${host}:${bench.port + 1}`;
      expect(refused(await bench.raw("GET", "/api/jobs", { cookie: bench.cookie, host: name }))).toEqual([
        403,
        "E_BENCH_REFUSED",
      ]);
    },
  );

  it("a whole address in the request's first line is judged as well", async () => {
    const first = async (address: string): Promise<string> => {
      const request = `GET ${address} HTTP/1.1\r\nHost: 127.0.0.1:${bench.port}\r\nCookie: ${bench.cookie}\r\nConnection: close\r\n\r\n`;
      return new Promise((resolve) => {
        const socket = connect(bench.port, "127.0.0.1", () => socket.write(request));
        socket.setEncoding("utf8").once("data", resolve);
      });
    };
    expect(await first("http://board.example/api/jobs")).toMatch(/^HTTP\/1.1 403 /);
    expect(await first(`http://board.example:${bench.port}/api/jobs`)).toMatch(/^HTTP\/1.1 403 /);
    expect(await first(`${bench.home}/api/jobs`)).toMatch(/^HTTP\/1.1 200 /);
  });

  it("no host at all is refused", async () => {
    for (const host of ["Host:\r\n", ""]) {
      const said = await new Promise<string>((resolve) => {
        const request = `GET /api/jobs HTTP/1.1\r\n${host}Cookie: ${bench.cookie}\r\nConnection: close\r\n\r\n`;
        const socket = connect(bench.port, "127.0.0.1", () => socket.write(request));
        socket.setEncoding("utf8").once("data", resolve);
      });
      expect(said).toMatch(/^HTTP\/1.1 40[03] /);
    }
  });

  it("the host of the printed address and localhost are let through", async () => {
    for (const host of [`127.0.0.1:${bench.port}`, `localhost:${bench.port}`])
      expect((await bench.raw("GET", "/api/jobs", { cookie: bench.cookie, host })).status).toBe(200);
  });
});

describe("requests of other pages", () => {
  const body = JSON.stringify({ device: "X" });
  const json = { "content-type": "application/json" };

  it.each(["http://board.example", "null", "https://127.0.0.1", "http://localhost:1"])(
    "with the origin %s are refused",
    async (origin) => {
      const answer = await bench.raw("POST", "/api/jobs", { ...json, cookie: bench.cookie, origin }, body);
      expect(refused(answer)).toEqual([403, "E_BENCH_REFUSED"]);
      expect((await bench.raw("GET", "/api/jobs", { cookie: bench.cookie, origin })).status).toBe(403);
    },
  );

  it("that change something need an origin", async () => {
    const answer = await bench.raw("POST", "/api/jobs", { ...json, cookie: bench.cookie }, body);
    expect(refused(answer)).toEqual([403, "E_BENCH_REFUSED"]);
  });

  it.each(["cross-site", "same-site"])("that the browser calls %s are refused", async (site) => {
    const headers = { cookie: bench.cookie, "sec-fetch-site": site };
    expect(refused(await bench.raw("GET", "/api/jobs", headers))).toEqual([403, "E_BENCH_REFUSED"]);
  });

  it("in the form of a form are refused, even with the right origin", async () => {
    const form = { ...bench.own, "content-type": "text/plain" };
    expect(refused(await bench.raw("POST", "/api/jobs", form, body))).toEqual([400, "E_BENCH_REQUEST"]);
  });

  it("left no job behind", async () => {
    expect((await bench.call("listJobs", {})).jobs).toEqual([]);
  });
});

describe("every answer", () => {
  it.each(["/", "/api/jobs", "/nowhere", "/assets/none.js"])("%s carries the headers", async (path) => {
    for (const headers of [bench.own, {}]) {
      const answer = await bench.raw("GET", path, headers);
      const policy = String(answer.headers["content-security-policy"]);
      expect(policy).toContain("default-src 'none'");
      expect(policy).toContain("connect-src 'self'");
      expect(policy).not.toMatch(/unsafe|\*|https?:/);
      expect(answer.headers).toMatchObject({
        "x-content-type-options": "nosniff",
        "referrer-policy": "no-referrer",
        "cross-origin-resource-policy": "same-origin",
        "cache-control": "no-store",
      });
      expect(answer.headers["access-control-allow-origin"]).toBeUndefined();
    }
  });
});
