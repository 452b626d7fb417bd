// Starts a bench in this process on a folder of its own, and asks it as the page would.
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { request } from "node:http";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { callApi } from "../../../src/api/call-api.js";
import type { Calls } from "../../../src/api/calls.js";
import type { CallName } from "../../../src/api/endpoints.js";
import type { InboxFile } from "../../../src/api/inbox-schema.js";
import type { Task } from "../../../src/api/task-schema.js";
import { type BenchOptions, startBench } from "../../../src/serve/start-bench.js";
import { PROJECT } from "../../structure/project.js";

/** What a raw request is answered with. */
export interface RawAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly text: string;
}

/** Start a bench for a test. Faults of the server fail the test at its end. */
export async function openBench(options: Partial<BenchOptions> = {}) {
  const folder = await mkdtemp(join(tmpdir(), "faultglow-bench-"));
  const faults: unknown[] = [];
  const bench = await startBench({
    jobs: folder,
    port: 0,
    toolVersion: "9.9.9",
    onFault: (error) => faults.push(error),
    ...options,
  });
  const home = `http://127.0.0.1:${bench.port}`;
  const cookie = `faultglow-${bench.port}=${bench.token}`;

  const ask = (address: string, init: RequestInit): Promise<Response> =>
    fetch(`${home}${address}`, {
      ...init,
      headers: { ...(init.headers as Record<string, string>), cookie, origin: home },
    });
  const call = <Name extends CallName>(name: Name, words: Calls[Name]["request"]) =>
    callApi(name, words, { fetch: ask });

  return {
    ...bench,
    folder,
    home,
    cookie,
    faults,
    call,
    /** A request with whatever headers, as no browser would send it. */
    raw: (
      method: string,
      path: string,
      headers: Record<string, string> = {},
      body?: string | Uint8Array,
    ): Promise<RawAnswer> =>
      new Promise((resolve, reject) => {
        const asked = request({ host: "127.0.0.1", port: bench.port, method, path, headers }, (answer) => {
          let text = "";
          answer.setEncoding("utf8").on("data", (part: string) => {
            text += part;
          });
          answer.on("end", () => resolve({ status: answer.statusCode ?? 0, headers: answer.headers, text }));
          answer.on("error", reject);
        });
        asked.on("error", reject);
        asked.end(body);
      }),
    /** Headers of the page's own requests. */
    own: { cookie, origin: home } as Record<string, string>,
    /** Drop the files of a folder of the sample frames. */
    drop: async (job: string, sample: string): Promise<InboxFile[]> => {
      const from = join(PROJECT, "sample-frames", sample);
      const files: InboxFile[] = [];
      for (const name of (await readdir(from)).sort()) {
        const bytes = new Uint8Array(await readFile(join(from, name)));
        files.push((await call("addToInbox", { job, name: `${sample}/${name}`, bytes })).file);
      }
      return files;
    },
    /** Wait until all of an inbox has been read. */
    read: async (job: string) => {
      for (;;) {
        const inbox = await call("inbox", { job });
        if (inbox.files.every(({ sort }) => sort !== "unread")) return inbox;
        await new Promise((done) => setTimeout(done, 30));
      }
    },
    /** Wait for the end of a task. */
    ended: async ({ id }: Task): Promise<Task> => {
      for (;;) {
        const { task } = await call("task", { task: id });
        if (task.state !== "waiting" && task.state !== "running") return task;
        await new Promise((done) => setTimeout(done, 50));
      }
    },
    stop: async (): Promise<void> => {
      await bench.close();
      await rm(folder, { recursive: true, force: true });
      if (faults.length > 0) throw faults[0];
    },
  };
}

/** A bench as a test has it. */
export type TestBench = Awaited<ReturnType<typeof openBench>>;
