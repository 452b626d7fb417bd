// fuzz: names of targets → their figures, from a process that is watched for hanging, crashing and memory.
import { fork } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { FuzzAmount, FuzzFigures } from "./run-inputs.js";

/** Figures of a target with the memory of its process. */
export interface WatchedFigures extends FuzzFigures {
  /** Largest resident memory of the process so far, MiB: Node, the readers, and everything outside its heap. */
  readonly peakMiB: number;
}

/** What is watched for. */
export const WATCH_LIMITS = Object.freeze({
  /** MiB of a process. */
  memoryMiB: 512,
  /** MiB of its heap: beyond it Node ends by itself. */
  heapMiB: 384,
  /** An input that never ends is given up when it has worked for so many ms: far more than the second it may take. */
  hangMs: 30_000,
  /** One that waits for something that never comes, and so does not work, is given up after so long, ms: on a busy
   *  machine others may have the processors for a minute. */
  waitMs: 300_000,
});

/** Read inputs in a process of its own.
 *  @param names targets, one after another in one process.
 *  @throws Error if the process crashes, hangs or needs too much memory, with the target and the input. */
export async function watchChild(
  names: readonly string[],
  {
    seed,
    inputs,
    from = 0,
    minutes = Number.POSITIVE_INFINITY,
    onFigures = () => {},
  }: FuzzAmount & {
    readonly onFigures?: (figures: WatchedFigures) => void;
  },
): Promise<WatchedFigures[]> {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-fuzz-"));
  const progress = join(folder, "progress");
  writeFileSync(progress, "");
  const child = fork(
    fileURLToPath(new URL("fuzz-child.ts", import.meta.url)),
    [names.join(","), seed, String(inputs), String(from), String(minutes), progress],
    {
      execArgv: ["--import", "tsx", "--expose-gc", `--max-old-space-size=${WATCH_LIMITS.heapMiB}`],
      stdio: ["ignore", "ignore", "pipe", "ipc"],
    },
  );
  const all: WatchedFigures[] = [];
  let said = "";
  child.stderr!.on("data", (data: Buffer) => {
    said = `${said}${data.toString()}`.slice(-4000);
  });
  child.on("message", (figures) => {
    all.push(figures as WatchedFigures);
    onFigures(figures as WatchedFigures);
  });
  const where = (): string => {
    const bytes = new Uint8Array(readFileSync(progress)).slice(0, 16);
    if (bytes.length < 16) return "before the first input";
    const [target, input] = new Float64Array(bytes.buffer) as unknown as [number, number];
    return `at input ${input} of ${names[target]}`;
  };
  let seen = "";
  let since = { atMs: performance.now(), workedMs: workedMs(child.pid) };
  let hung = false;
  const watchdog = setInterval(() => {
    const now = where();
    const waited = performance.now() - since.atMs;
    const worked = workedMs(child.pid);
    if (now !== seen) {
      seen = now;
      since = { atMs: performance.now(), workedMs: worked };
    } else if (
      waited > WATCH_LIMITS.waitMs ||
      (worked === null ? waited : worked - (since.workedMs ?? 0)) > WATCH_LIMITS.hangMs
    ) {
      hung = true;
      child.kill("SIGKILL");
    }
  }, 500);
  try {
    const status = await new Promise<string>((resolve) => {
      // Not "exit": the last figures and words may still be on their way then.
      child.on("close", (code, signal) => resolve(signal ?? String(code)));
    });
    if (hung) throw new Error(`it hangs ${where()}`);
    if (status !== "0") throw new Error(`the process ended with ${status} ${where()}: ${said}`);
  } finally {
    clearInterval(watchdog);
    rmSync(folder, { recursive: true });
  }
  return all;
}

/** Processor time of a process so far, ms, by proc(5): fields 14 and 15 of stat, in ticks of 10 ms. Null on systems
 *  without, and of a process that has ended. */
function workedMs(pid: number | undefined): number | null {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const fields = stat.slice(stat.lastIndexOf(")") + 2).split(" ");
    return 10 * (Number(fields[11]) + Number(fields[12]));
  } catch {
    return null;
  }
}
