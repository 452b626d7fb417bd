import { spawn } from "node:child_process";
import { describe, expect, it } from "vitest";
import { ownStream } from "../../../src/cli/own-streams.js";

const MODULE = new URL("../../../src/cli/own-streams.ts", import.meta.url).href;

/** Writes so many letters of two bytes, and a word; ends with 7 when the first have left. */
const writes = (letters: number): string => `const { ownStream } = await import(${JSON.stringify(MODULE)});
const out = ownStream(1);
out.write("°".repeat(${letters}), (error) => { process.exitCode = error ? 1 : 7; });
out.write("end");`;
/** Makes the pipe one that does not wait, for whoever shares it, and fills it. */
const FILLS = `process.stdout.write("");
for (const many of [500, 1]) try { for (;;) require("node:fs").writeSync(1, "x".repeat(many)); } catch {}
setTimeout(() => {}, 20_000);`;

/** What a slow reader gets of them, and how they end. @param shared whether another process fills the pipe before. */
async function readSlowly(
  letters: number,
  shared: boolean,
): Promise<{ text: string; status: number | null }> {
  const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;
  const node = quoted(process.execPath);
  const script = [
    shared ? `${node} -e ${quoted(FILLS)} & sleep 2` : "true",
    `${node} --import tsx --input-type=module -e ${quoted(writes(letters))}`,
    "status=$?",
    shared ? "kill $!" : "true",
    "exit $status",
  ].join("\n");
  const child = spawn("sh", ["-c", script], { stdio: ["ignore", "pipe", "inherit"] });
  const ended = new Promise<number | null>((resolve) => child.on("close", resolve));
  let text = "";
  child.stdout.setEncoding("utf8").on("data", (more) => {
    text += more;
  });
  // What nobody listens to when a process ends is thrown away.
  child.stdout.pause();
  await new Promise((resolve) => setTimeout(resolve, shared ? 5000 : 1500));
  child.stdout.resume();
  const status = await ended;
  return { text: text.replace(/^x*/, ""), status };
}

describe.skipIf(process.platform === "win32")(
  "the process's own streams write all of a text in its order",
  () => {
    it.each([
      ["that is short", 100, false],
      ["that is longer than what a pipe holds", 300_000, false],
      ["though another process has made the pipe one that does not wait, and filled it", 100, true],
    ])(
      "%s",
      async (_, letters, shared) => {
        const { text, status } = await readSlowly(letters, shared);
        expect(status).toBe(7);
        expect([text.length, text.slice(0, 5), text.slice(-5)]).toEqual([letters + 3, "°°°°°", "°°end"]);
      },
      60_000,
    );
  },
);

it("where the system has other ways they are Node's", () => {
  const before = process.platform;
  Object.defineProperty(process, "platform", { value: "win32" });
  try {
    expect(ownStream(1)).toBe(process.stdout);
    expect(ownStream(2)).toBe(process.stderr);
  } finally {
    Object.defineProperty(process, "platform", { value: before });
  }
});
