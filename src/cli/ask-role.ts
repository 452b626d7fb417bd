// cli: a group of frames → the role that a person at the terminal gives it.
import { createInterface } from "node:readline/promises";
import { visibleText } from "../report/visible-text.js";
import type { FrameGroup, Role } from "../watch/watched-frame.js";
import { listNames } from "./watch-events.js";

/** Make the question for roles; null where no person sits at the terminal.
 *  @param stop called when the question is answered with Ctrl-C. */
export function askRole(stop: () => void): ((group: FrameGroup) => Promise<Role | null>) | null {
  if (process.stdin.isTTY !== true || process.stderr.isTTY !== true) return null;
  return async (group) => {
    const terminal = createInterface({ input: process.stdin, output: process.stderr });
    const ended = new Promise<string>((resolve) => {
      terminal.once("SIGINT", () => {
        stop();
        resolve("skip");
      });
      terminal.once("close", () => resolve("skip"));
    });
    const names = visibleText(listNames(group.frames.map(({ name }) => name)));
    try {
      for (;;) {
        const answer = await Promise.race([
          terminal.question(`${names}: baseline, powered or skip? `),
          ended,
        ]);
        const role = roleOfAnswer(answer);
        if (role !== undefined) return role;
      }
    } finally {
      terminal.close();
    }
  };
}

/** Read an answer by its first letter.
 *  @returns undefined for what is none of the three. */
function roleOfAnswer(answer: string): Role | null | undefined {
  const word = answer.trim().toLowerCase();
  if (word === "") return undefined;
  if ("baseline".startsWith(word)) return "baseline";
  if ("powered".startsWith(word)) return "powered";
  return "skip".startsWith(word) ? null : undefined;
}
