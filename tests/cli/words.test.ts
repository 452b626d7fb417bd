import { describe, expect, it } from "vitest";
import { runCli } from "./run-cli.js";

describe("faultglow", () => {
  it("prints help and a hint for the first use when it stands alone", async () => {
    const { status, out, err } = await runCli([]);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toContain("First use:");
  });

  it.each([
    [["--help"]],
    [["find", "--help"]],
    [["board", "--help"]],
    [["board", "check", "--help"]],
    [["demo", "--help"]],
  ])("explains %j", async (words) => {
    const { status, out, err } = await runCli(words);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Usage: faultglow/);
  });

  it.each([
    [
      ["help", "job", "report"],
      ["job", "report", "--help"],
    ],
    [
      ["job", "help", "report"],
      ["job", "report", "--help"],
    ],
    [
      ["board", "help", "place"],
      ["board", "place", "--help"],
    ],
    [
      ["help", "job"],
      ["job", "--help"],
    ],
    [
      ["job", "help"],
      ["job", "--help"],
    ],
    [
      ["help", "find"],
      ["find", "--help"],
    ],
    [
      ["help", "demo", "--quiet"],
      ["demo", "--help"],
    ],
    [["help"], ["--help"]],
  ])("takes %j for %j", async (words, same) => {
    const [asked, plain] = [await runCli(words), await runCli(same)];
    expect([asked.status, asked.err]).toEqual([0, ""]);
    expect(asked.out).toBe(plain.out);
  });

  it.each([
    [["help", "nosuch"], /^E_USAGE: unknown command 'nosuch'/],
    [["help", "find", "extra"], /^E_USAGE: there is no command "find extra"\. Run "faultglow find --help"/],
    [["job", "help", "report", "extra"], /^E_USAGE: there is no command "job report extra"/],
    [["help", "job", "rport"], /^E_USAGE: job has no command "rport", it has new, attempt/],
    [["job", "help", "rport"], /^E_USAGE: job has no command "rport", it has new, attempt/],
    [["find", "help"], /^E_USAGE: /],
  ])("refuses %j", async (words, error) => {
    const { status, out, err } = await runCli(words);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(error);
  });

  it("prints its version", async () => {
    expect((await runCli(["--version"])).out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it("refuses unknown words with a guess at what was meant", async () => {
    const { status, out, err } = await runCli(["fnd"]);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^E_USAGE: .*fnd.*Did you mean find\?/);
  });

  it("writes no colours into a pipe, with NO_COLOR and without", async () => {
    for (const env of [{}, { NO_COLOR: "1" }, { FORCE_COLOR: "1", TERM: "xterm-256color" }]) {
      const { out, err } = await runCli([], { env });
      expect(out + err).not.toContain("\u001b");
    }
  });

  it("ends with 1 and a stack for a fault of ours", async () => {
    // The only way to a fault from outside: an environment in which a part of Node is broken.
    const { status, out, err } = await runCli(["board", "check", "package.json"], {
      env: { NODE_OPTIONS: `--import data:text/javascript,${encodeURIComponent(BREAK_HASH)}` },
    });
    expect([status, out]).toEqual([1, ""]);
    expect(err).toContain("Error: broken on purpose");
    expect(err).toContain("This is a fault of faultglow");
  });
});

/** Makes the hash of a file fail in a way that no user can cause. */
const BREAK_HASH = `
import crypto from "node:crypto";
import { syncBuiltinESMExports } from "node:module";
crypto.createHash = () => { throw new TypeError("broken on purpose"); };
syncBuiltinESMExports();
`;
