// load: a bench and a stream of random numbers → users that do all that a page does, and much that it does not.
import { connect } from "node:net";
import { CallError, callApi } from "../../src/api/call-api.js";
import type { Calls } from "../../src/api/calls.js";
import type { CallName } from "../../src/api/endpoints.js";
import type { Task } from "../../src/api/task-schema.js";
import { makeFrame } from "../cli/make-frames.js";
import type { BenchProcess } from "../cli/start-bench.js";
import type { Random } from "../simulate/random.js";
import { askBench, openAnswer } from "./ask-bench.js";

/** What the bench has confirmed of a job, and must still have at the end. */
export interface Confirmed {
  readonly remarks: Set<string>;
  readonly dropped: Set<string>;
  attempts: number;
}

/** Jobs that are made; then the users go on with those that there are. The first come soon. */
const MOST_JOBS = 8;
const FEW_JOBS = 4;
/** Attempts of a job: each listing of a job reads them all, and a repair has a handful. */
const MOST_ATTEMPTS = 12;
/** Statuses of a request that was refused as it should be. */
const REFUSED: readonly number[] = [400, 401, 403, 404, 408, 409, 413, 415, 422, 423, 431];

/** The users of one bench. */
export class LoadClient {
  readonly counts = { requests: 0, refused: 0, jobs: 0, attempts: 0 };
  /** How long each call waited for its whole answer, ms. */
  readonly waitedMs: number[] = [];
  /** What must not have happened. */
  readonly faults: string[] = [];
  readonly confirmed: Map<string, Confirmed>;
  readonly #bench: BenchProcess;
  readonly #cookie: string;
  readonly #random: Random;
  readonly #tasks = new Map<string, { readonly job: string; readonly kind: Task["kind"] }>();
  #frames = 0;
  #stopped = false;

  private constructor(
    bench: BenchProcess,
    cookie: string,
    random: Random,
    confirmed: Map<string, Confirmed>,
  ) {
    this.confirmed = confirmed;
    this.#bench = bench;
    this.#cookie = cookie;
    this.#random = random;
  }

  /** Come to a bench by its printed address.
   *  @param confirmed by the one before it on the same folder. */
  static async open(
    bench: BenchProcess,
    random: Random,
    confirmed = new Map<string, Confirmed>(),
  ): Promise<LoadClient> {
    const first = await fetch(bench.address, { redirect: "manual" });
    return new LoadClient(bench, first.headers.get("set-cookie")!.split(";")[0]!, random, confirmed);
  }

  /** Do one thing after another until the time is over. */
  async use(endMs: number, pauseMs: number): Promise<void> {
    while (performance.now() < endMs && !this.#stopped) {
      try {
        await this.#doOne();
      } catch (error) {
        if (this.#stopped) return;
        if (error instanceof CallError && REFUSED.includes(error.status)) this.counts.refused++;
        else this.faults.push(describe(error));
      }
      await new Promise((done) => setTimeout(done, pauseMs * this.#random.uniform(0.2, 1.8)));
    }
  }

  /** The bench is about to be killed: what fails from now on is no fault, and nothing more is begun. */
  stop(): void {
    this.#stopped = true;
  }

  /** Wait for all tasks, and count what they came to. */
  async settle(): Promise<void> {
    for (const id of this.#tasks.keys()) {
      while (!(await this.#look(id))) await new Promise((done) => setTimeout(done, 200));
    }
  }

  #call<Name extends CallName>(
    name: Name,
    words: Calls[Name]["request"],
    signal?: AbortSignal,
  ): Promise<Calls[Name]["answer"]> {
    this.counts.requests++;
    const { home } = this.#bench;
    const ask = async (address: string, init: RequestInit): Promise<Response> => {
      const headers = { ...(init.headers as Record<string, string>), cookie: this.#cookie, origin: home };
      const beganMs = performance.now();
      const answer = await askBench(`${home}${address}`, { ...init, headers });
      this.waitedMs.push(performance.now() - beganMs);
      return answer;
    };
    return callApi(name, words, signal === undefined ? { fetch: ask } : { fetch: ask, signal });
  }

  async #doOne(): Promise<void> {
    const random = this.#random;
    const { size } = this.confirmed;
    if (size < MOST_JOBS && random.chance(size < FEW_JOBS ? 0.3 : 0.05)) return this.#makeJob();
    if (size === 0) return this.#makeJob();
    const job = random.pick([...this.confirmed.keys()]);
    const kept = this.confirmed.get(job)!;
    switch (random.integer(0, 15)) {
      case 0:
      case 1:
      case 2:
        return this.#drop(job, kept);
      case 3:
      case 4:
        return this.#say(job, kept);
      case 5:
        return this.#attempt(job, kept);
      case 6:
        return void (await this.#call("jobState", { job }));
      case 7:
        return void (await this.#call("listJobs", {}));
      case 8:
        return this.#show(job);
      case 9:
        return this.#report(job);
      case 10:
        return this.#raw(this.#torn(job), 40);
      case 11:
        return this.#raw(this.#stranger(job), 2000);
      case 12:
        return this.#listen();
      case 13:
        return void (await this.#call("addToInbox", { job, name: "notes.txt", bytes: this.#junk() }).then(
          ({ file }) => kept.dropped.add(file.sha256),
        ));
      case 14:
        return void (await this.#call("saveDraft", { job, name: "board", body: { draft: [random.next()] } }));
      default:
        return this.#lookAtSome();
    }
  }

  async #makeJob(): Promise<void> {
    const { job } = await this.#call("makeJob", { body: { device: `load ${this.confirmed.size}` } });
    this.confirmed.set(job, { remarks: new Set(), dropped: new Set(), attempts: 0 });
    this.counts.jobs++;
  }

  /** A baseline and a powered frame, of another noise each time. */
  async #drop(job: string, kept: Confirmed): Promise<void> {
    // Another number than those of users of an earlier bench on the same folder.
    const number = 1000 * this.#random.integer(0, 999_999) + ++this.#frames;
    await Promise.all(
      [0, 2.4].map(async (peakK, i) => {
        const rows = makeFrame(2 * number + i, peakK).map((row) => row.map((value) => value.toFixed(3)));
        const bytes = new TextEncoder().encode(rows.map((row) => row.join(",")).join("\n"));
        const name = `${i === 0 ? "off" : "on"}/frame-${number}.csv`;
        const { file } = await this.#call("addToInbox", { job, name, bytes });
        kept.dropped.add(file.sha256);
      }),
    );
  }

  async #say(job: string, kept: Confirmed): Promise<void> {
    // No other remark has the same words, not even of users of an earlier bench on the same folder.
    const number = `${this.#random.integer(0, 999_999)}.${this.counts.requests}`;
    const text = `${this.#random.pick(["warm", "<b>cold</b>", "=1+1", "交接"])} ${number}`;
    await this.#call("say", { job, body: { said: [{ type: "remark", text }] } });
    kept.remarks.add(text);
  }

  async #attempt(job: string, kept: Confirmed): Promise<void> {
    const { files } = await this.#call("inbox", { job });
    const of = (role: string): string[] =>
      files.flatMap((file) => (file.role === role && file.error === null ? [file.sha256] : [])).slice(-2);
    const [baseline, powered] = [of("baseline"), of("powered")];
    if (baseline.length === 0 || powered.length === 0 || kept.attempts >= MOST_ATTEMPTS) return;
    this.#keep((await this.#call("makeAttempt", { job, body: { baseline, powered } })).task);
  }

  async #report(job: string): Promise<void> {
    const { task } = this.#random.chance(0.5)
      ? await this.#call("makeReport", { job, body: { for: "customer" } })
      : await this.#call("makePack", { job });
    this.#keep(task);
  }

  async #show(job: string): Promise<void> {
    const { attempts } = await this.#call("jobState", { job });
    if (attempts.length === 0) return;
    const { number } = this.#random.pick(attempts).attempt;
    await this.#call("pictures", { job, number });
  }

  /** Look how far tasks are; end one in ten. */
  async #lookAtSome(): Promise<void> {
    for (const id of [...this.#tasks.keys()].slice(0, 4)) {
      if (this.#random.chance(0.1)) await this.#call("cancelTask", { task: id });
      await this.#look(id);
    }
  }

  #keep({ id, job, kind }: Task): void {
    this.#tasks.set(id, { job, kind });
  }

  /** @returns whether it is over. */
  async #look(id: string): Promise<boolean> {
    const { task } = await this.#call("task", { task: id });
    if (task.state === "waiting" || task.state === "running") return false;
    // Two users may look at once: it is counted by the first.
    const known = this.#tasks.delete(id);
    if (known && task.state === "failed" && task.error!.code === "FAULT")
      this.faults.push(`a task failed: ${task.error!.problem}`);
    if (known && task.state === "done" && task.attempt !== null) {
      this.confirmed.get(task.job)!.attempts++;
      this.counts.attempts++;
    }
    return true;
  }

  /** A page that listens for a while, reads slowly or not at all, and goes. */
  async #listen(): Promise<void> {
    this.counts.requests++;
    const gone = new AbortController();
    setTimeout(() => gone.abort(), this.#random.uniform(500, 20_000)).unref();
    const { home } = this.#bench;
    try {
      const headers = { cookie: this.#cookie, origin: home };
      const stream = await openAnswer(`${home}/api/events`, { headers, signal: gone.signal });
      // Its going is told as an error to who reads, and to who does not.
      stream.on("error", () => {});
      if (this.#random.chance(0.5))
        await new Promise((resolve) => stream.once("readable", resolve).once("close", resolve));
    } catch (error) {
      // On a busy machine it may go before it has heard anything.
      if (!gone.signal.aborted) throw error;
    }
  }

  #junk(): Uint8Array<ArrayBuffer> {
    return Uint8Array.from({ length: this.#random.integer(0, 3000) }, () => this.#random.integer(0, 255));
  }

  /** An upload that breaks off. */
  #torn(job: string): string {
    return `${this.#head("POST", `/api/jobs/${job}/inbox?name=torn.csv`)}Content-Length: 5000\r\n\r\n20,21,22`;
  }

  /** What no page sends: other hosts, other shapes, nonsense. */
  #stranger(job: string): string {
    const form = `--x\r\nContent-Disposition: form-data; name="f"; filename="../a.csv"\r\n\r\n1,2`;
    return this.#random.pick([
      `GET /api/jobs HTTP/1.1\r\nHost: board.example\r\nConnection: close\r\n\r\n`,
      `${this.#head("POST", `/api/jobs/${job}/said`)}Content-Type: multipart/form-data; boundary=x\r\nContent-Length: ${form.length}\r\n\r\n${form}`,
      `${this.#head("GET", "/api/jobs/..%2f..%2fetc%2fpasswd")}\r\n`,
      `${this.#head("POST", "/api/jobs")}Content-Type: application/json\r\nContent-Length: 1\r\n\r\n{`,
      "\u0000\u0001 nothing at all\r\n\r\n",
    ]);
  }

  #head(method: string, path: string): string {
    const { home, port } = this.#bench;
    return `${method} ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nOrigin: ${home}\r\nCookie: ${this.#cookie}\r\nConnection: close\r\n`;
  }

  /** Send lines, and hang up after a while. @throws Error if they were taken for good. */
  #raw(lines: string, forMs: number): Promise<void> {
    this.counts.requests++;
    return new Promise((resolve) => {
      let said = "";
      const socket = connect(this.#bench.port, "127.0.0.1", () => socket.write(lines));
      const timer = setTimeout(() => socket.destroy(), forMs);
      socket.setEncoding("latin1").on("data", (text: string) => (said += text));
      socket.on("error", () => {});
      socket.on("close", () => {
        clearTimeout(timer);
        if (/^HTTP\/1\.1 [235]/.test(said))
          this.faults.push(`${lines.slice(0, 60)} was answered ${said.slice(0, 60)}`);
        else this.counts.refused++;
        resolve();
      });
    });
  }
}

/** What was thrown, with what lies behind it. */
function describe(error: unknown): string {
  const { cause } = error as Error;
  const words = error instanceof CallError ? `${error.status} ${error.message}` : String(error);
  return cause === undefined ? words : `${words} (${String(cause)})`;
}
