// cli: the options of `bench` → a page served until Ctrl-C.
import { homedir } from "node:os";
import { join, resolve } from "node:path";
import { TOOL_VERSION } from "../core/tool-version.js";
import { visibleText } from "../report/visible-text.js";
import { BENCH_PORT } from "../serve/bench-ports.js";
import { startBench } from "../serve/start-bench.js";
import type { BenchWords } from "./bench-command.js";
import type { CommandOutput } from "./command-output.js";

/** Serve the page. @throws ToolError E_OUTPUT, E_BENCH_PORT. */
export async function runBench(words: BenchWords, output: CommandOutput): Promise<void> {
  const jobs = resolve(words.jobs ?? join(homedir(), "faultglow-jobs"));
  const stopped = untilStopped();
  const bench = await startBench({
    jobs,
    port: words.port,
    toolVersion: TOOL_VERSION,
    onFault: (error) => {
      const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
      void output.remark(`${text.split("\n").map(visibleText).join("\n")}\n`);
    },
  });
  try {
    if (words.json === true) {
      await output.result(`${JSON.stringify({ address: bench.address, port: bench.port, jobs })}\n`);
    } else {
      const other =
        words.port === undefined && bench.port !== BENCH_PORT
          ? `Port ${BENCH_PORT} is in use; this is port ${bench.port}.\n`
          : "";
      await output.remark(other);
      await output.result(
        `Jobs are kept in ${visibleText(jobs)}\nOpen this address in a browser on this machine; whoever has it can use the bench:\n\n  ${output.styles.bold(bench.address)}\n\nCtrl-C ends it.\n`,
      );
    }
    await stopped.wait;
  } finally {
    stopped.release();
    await bench.close();
  }
}

/** Ctrl-C and an ordered end. A second Ctrl-C ends the process at once. */
function untilStopped(): { wait: Promise<void>; release: () => void } {
  let stop: () => void = () => {};
  const wait = new Promise<void>((done) => {
    stop = done;
  });
  const signals = ["SIGINT", "SIGTERM", "SIGHUP"] as const;
  for (const signal of signals) process.once(signal, stop);
  return {
    wait,
    release: () => {
      for (const signal of signals) process.off(signal, stop);
    },
  };
}
