// Streams that keep what is written to them, for tests of the command inside one process.
import type { Surroundings, TextStream } from "../../../src/cli/command-output.js";

export interface FakeSurroundings extends Surroundings {
  readonly printed: () => { out: string; err: string };
}

export function fakeSurroundings(
  options: { tty?: boolean; env?: Record<string, string>; failWith?: string } = {},
): FakeSurroundings {
  const texts = { out: "", err: "" };
  const stream = (name: "out" | "err"): TextStream => ({
    isTTY: options.tty === true,
    write: (text, done) => {
      if (name === "out" && options.failWith !== undefined) {
        done?.(Object.assign(new Error("write failed"), { code: options.failWith }));
        return false;
      }
      texts[name] += text;
      done?.(null);
      return true;
    },
    on: () => undefined,
  });
  return { out: stream("out"), err: stream("err"), env: options.env ?? {}, printed: () => ({ ...texts }) };
}
