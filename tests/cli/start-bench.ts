// Starts the real command on a folder of jobs, as a user's shell would; needs `npm run build` first.
import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { BIN } from "./run-cli.js";

/** A bench in a process of its own. */
export interface BenchProcess {
  readonly child: ChildProcess;
  /** Address with the token. */
  readonly address: string;
  /** The same without anything behind the port. */
  readonly home: string;
  readonly port: number;
  /** All that was printed beside the address. */
  readonly err: () => string;
  /** End it as Ctrl-C does. @returns exit status. */
  readonly stop: () => Promise<number | null>;
  /** End it as a pulled plug does. */
  readonly kill: () => Promise<void>;
}

/** Start `faultglow bench` and wait for its address.
 *  @param words beside `--json`.
 *  @throws Error with what it printed, where it ends without an address. */
export async function startBenchProcess(
  jobs: string,
  words: readonly string[] = ["--port", "0"],
): Promise<BenchProcess> {
  const child = spawn(process.execPath, [BIN, "bench", "--jobs", jobs, "--json", ...words], {
    env: { PATH: process.env["PATH"] ?? "", HOME: jobs },
    stdio: ["ignore", "pipe", "pipe"],
  });
  let err = "";
  child.stderr.setEncoding("utf8").on("data", (text: string) => {
    err += text;
  });
  // A process that is killed has ended before its last words have come: those are waited for where they are asked for.
  const ended = once(child, "exit");
  const closed = once(child, "close");
  const line = await new Promise<string>((resolve, reject) => {
    child.stdout.setEncoding("utf8").once("data", resolve);
    child.once("close", (status) => reject(new Error(`faultglow bench ended with ${status}: ${err}`)));
  });
  const { address, port } = JSON.parse(line) as { address: string; port: number };
  return {
    child,
    address,
    home: `http://127.0.0.1:${port}`,
    port,
    err: () => err,
    stop: async () => {
      child.kill("SIGINT");
      return ((await closed) as [number | null])[0];
    },
    kill: async () => {
      child.kill("SIGKILL");
      await ended;
    },
  };
}
