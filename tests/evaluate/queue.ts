// evaluate: items → their outcomes, from several processes that each take the next item when they are free.
import { fork } from "node:child_process";
import { fileURLToPath } from "node:url";
import type { Item, Outcome } from "./run-items.js";

/** Run all items.
 *  @param jobs processes at a time.
 *  @param take called with each outcome as it comes, in the order of finishing.
 */
export async function runQueue(
  items: readonly Item[],
  jobs: number,
  take: (item: Item, outcome: Outcome) => void,
): Promise<void> {
  let next = 0;
  const worker = (): Promise<void> =>
    new Promise((resolve, reject) => {
      const child = fork(fileURLToPath(new URL("./run-items.ts", import.meta.url)), ["child"], {
        execArgv: process.execArgv,
        serialization: "advanced",
      });
      let doing: Item | null = null;
      const feed = (): void => {
        doing = items[next] ?? null;
        next++;
        if (doing === null) child.disconnect();
        else child.send(doing);
      };
      child.on("message", (outcome: Outcome) => {
        if (doing !== null) take(doing, outcome);
        feed();
      });
      child.on("error", reject);
      child.on("exit", (code) =>
        code === 0 && doing === null ? resolve() : reject(new Error("a process of the evaluation failed")),
      );
      feed();
    });
  await Promise.all(Array.from({ length: Math.min(jobs, items.length) }, worker));
}
