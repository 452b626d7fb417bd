// Spawns the real command, as a user's shell would; needs `npm run build` first.
import { spawn } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

export const PROJECT = fileURLToPath(new URL("../../", import.meta.url));
/** Version that the command says of itself. */
export const VERSION: string = JSON.parse(
  readFileSync(new URL("../../package.json", import.meta.url), "utf8"),
).version;
/** The program that `faultglow` is. */
export const BIN = fileURLToPath(new URL("../../bin/faultglow.js", import.meta.url));

export interface CliRun {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly out: string;
  readonly err: string;
}

export interface CliOptions {
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
  /** Path of the Node to run it by; else that of the tests. */
  readonly node?: string;
  /** Close the reading end of stdout at once, as `| head -0` does. */
  readonly closeOut?: boolean;
}

/** Run faultglow with some words. The environment is bare, so that the caller's colours don't leak in. */
export function runCli(words: readonly string[], options: CliOptions = {}): Promise<CliRun> {
  if (!existsSync(new URL("../../dist/cli/main.cjs", import.meta.url))) {
    throw new Error("dist is missing: run `npm run build` before the tests of the command");
  }
  return new Promise((resolve, reject) => {
    const child = spawn(options.node ?? process.execPath, [BIN, ...words], {
      cwd: options.cwd ?? PROJECT,
      env: { PATH: process.env["PATH"] ?? "", ...options.env },
      stdio: ["ignore", "pipe", "pipe"],
    });
    let out = "";
    let err = "";
    if (options.closeOut === true) child.stdout.destroy();
    else child.stdout.setEncoding("utf8").on("data", (text: string) => (out += text));
    child.stderr.setEncoding("utf8").on("data", (text: string) => (err += text));
    child.on("error", reject);
    child.on("close", (status, signal) => resolve({ status, signal, out, err }));
  });
}
