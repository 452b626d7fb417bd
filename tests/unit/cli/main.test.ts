import { describe, expect, it } from "vitest";
import { main } from "../../../src/cli/main.js";
import { fakeSurroundings } from "./fake-surroundings.js";

const run = async (...argv: string[]): Promise<{ status: number; out: string; err: string }> => {
  const surroundings = fakeSurroundings();
  const status = await main(argv, surroundings);
  return { status, ...surroundings.printed() };
};
/** Words that a command takes as its own where it takes only some. */
const VALUES: Readonly<Record<string, string>> = { PAGE: "method", SHELL: "bash", LINE: "1" };

/** Every command that does something, with its help. */
const leavesBelow = async (path: readonly string[]): Promise<{ path: readonly string[]; help: string }[]> => {
  const { out: help } = await run(...path, "--help");
  const listed = /\nCommands:\n((?: .*\n)+)/.exec(help)?.[1];
  if (listed === undefined) return [{ path, help }];
  const names = [...listed.matchAll(/^ {2}([a-z]+)/gm)]
    .map(([, name]) => name!)
    .filter((name) => name !== "help");
  return (await Promise.all(names.map((name) => leavesBelow([...path, name])))).flat();
};
const FRAMES = ["--baseline", "a.csv", "--powered", "b.csv"] as const;

describe("main", () => {
  it("prints help and a hint for the first use when it stands alone", async () => {
    const { status, out, err } = await run();
    expect([status, err, (await run("--help")).out]).toEqual([0, "", out]);
    for (const words of ["find", "board", "First use:", "faultglow demo"]) expect(out).toContain(words);
  });

  it.each([
    ["--help"],
    ["find", "--help"],
    ["board", "check", "--help"],
    ["demo", "--help"],
    ["help", "find"],
  ])("explains itself: %s %s %s", async (...argv) => {
    const { status, out, err } = await run(...argv);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/^Usage: faultglow/);
  });

  it("prints the version", async () => {
    expect((await run("--version")).out).toMatch(/^\d+\.\d+\.\d+\n$/);
  });

  it.each<[string, string[], RegExp]>([
    ["an unknown command", ["fnd"], /unknown command 'fnd'.*Did you mean find\?.*faultglow --help/],
    [
      "an unknown option",
      ["find", ...FRAMES, "--bord", "x"],
      /unknown option '--bord'.*Did you mean --board\?/,
    ],
    [
      "a missing option",
      ["find", "--baseline", "a.csv"],
      /find needs --powered <F\.\.\.> \(.*\), which is not there\. Write "faultglow find --baseline F\.\.\. --powered F\.\.\."/,
    ],
    [
      "a missing option that was mistyped",
      ["find", "--basline", "a.csv", "--powered", "b.csv"],
      /find needs --baseline <F\.\.\.> \(frames without power\), and there is no option --basline\./,
    ],
    [
      "a missing word",
      ["board", "check"],
      /board check needs F \(board map, JSON\).*"faultglow board check F"/,
    ],
    ["missing words after a folder", ["job", "new", "x"], /"faultglow job new DIR --device NAME"/],
    [
      "help for a command that there is not",
      ["help", "nix"],
      /unknown command 'nix'\. There are find, compare/,
    ],
    ["one of a group", ["report"], /'report'\. Did you mean "faultglow job report"\?/],
    ["help for one of two", ["help", "check"], /mean "faultglow board check" or "faultglow job check"\?/],
    ["a missing value", ["find", ...FRAMES, "--rate"], /'--rate <HZ>' argument missing/],
    ["words too many", ["find", "a.csv", "b.csv"], /E_USAGE/],
    [
      "a number that is none",
      ["find", ...FRAMES, "--rate", "fast"],
      /--rate needs a rate in Hz, found "fast"/,
    ],
    ["a choice that there is not", ["find", ...FRAMES, "--unit", "R"], /Allowed choices are C, F, K/],
    ["volts alone", ["find", ...FRAMES, "--volts", "1"], /--volts came without --amps/],
    ["amps alone", ["find", ...FRAMES, "--amps", "1"], /--amps came without --volts/],
    [
      "a scale twice",
      ["find", ...FRAMES, "--scale", "1:2", "--gain", "0.01"],
      /--scale and --gain came together/,
    ],
    [
      "a scale in another unit",
      ["find", ...FRAMES, "--scale", "60:110", "--unit", "F"],
      /--scale is in °C, and --unit F/,
    ],
    [
      "a scale in another unit, of frames to place",
      [
        "board",
        "place",
        "--from",
        "a",
        "--from-view",
        "v",
        "--to",
        "b",
        "--board",
        "m",
        "--scale",
        "280:320",
        "--unit",
        "K",
      ],
      /--scale is in °C, and --unit K .* count in kelvins/,
    ],
    ["a gain of 0", ["find", ...FRAMES, "--gain", "0"], /--gain needs a number other than 0/],
    [
      "a time and a rate",
      ["find", ...FRAMES, "--after", "20", "--rate", "9"],
      /--after and --rate came together/,
    ],
    ["a time of nothing", ["find", ...FRAMES, "--after", "0"], /--after needs a time in seconds/],
    ["a cycle without a rate", ["find", ...FRAMES, "--cycle", "2"], /--cycle came without --rate/],
    [
      "a cycle of 0 s",
      ["find", ...FRAMES, "--rate", "9", "--cycle", "0"],
      /--cycle needs a period in seconds/,
    ],
    [
      "a word that is no cycle",
      ["find", ...FRAMES, "--rate", "9", "--cycle", "slow"],
      /--cycle needs a period in seconds, or the word find, found "slow"/,
    ],
    ["an offset alone", ["find", ...FRAMES, "--offset", "3"], /--offset came without --gain/],
    [
      "a board without a view",
      ["find", ...FRAMES, "--board", "b.json"],
      /without --view.*faultglow\/view.*fiducials/,
    ],
    [
      "an option where a frame should be",
      ["find", "--baseline", "--powered", "--powered", "b"],
      /found the option --powered/,
    ],
    ["board alone", ["board"], /board needs a command after it/],
    [
      "a misspelt board command",
      ["board", "chek", "x.json"],
      /board has no command "chek", it has check, import/,
    ],
  ])("refuses %s with status 2, a message and nothing on stdout", async (_name, argv, message) => {
    const { status, out, err } = await run(...argv);
    expect([status, out]).toEqual([2, ""]);
    expect(err).toMatch(/^E_USAGE: /);
    expect(err).toMatch(message);
    expect(err.trimEnd()).not.toContain("\n");
  });

  it("refuses words too many after every command", async () => {
    const leaves = await leavesBelow([]);
    expect(leaves.length).toBeGreaterThan(20);
    for (const { path, help } of leaves) {
      const usage = help.split("\n\n")[0]!;
      const words = [...usage.matchAll(/[<[]([A-Z]+)(\.\.\.)?[>\]]/g)].map(
        ([, name]) => VALUES[name!] ?? "x",
      );
      const needed = [...help.matchAll(/^ {2}(--[a-z-]+) <[A-Z.]+> +needed:/gm)].flatMap(([, flag]) => [
        flag!,
        "x",
      ]);
      const { status, err } = await run(...path, ...words, "surplus", "further", ...needed);
      expect([status, err], path.join(" ")).toEqual([
        2,
        expect.stringMatching(
          /^E_USAGE: (too many arguments|compare takes the findings of two attempts, found 3)/,
        ),
      ]);
    }
  });

  it("gives a scale that can't be used its own code", async () => {
    const { status, err } = await run("find", ...FRAMES, "--scale", "40:20");
    expect(status).toBe(2);
    expect(err).toMatch(/^E_SCALE_VALUE: .*40/);
  });

  it("shows the stack of a fault of ours, says how to report it, and ends with 1", async () => {
    const surroundings = fakeSurroundings();
    const broken = new Error("broken on purpose");
    let first = true;
    const status = await main(["--version"], {
      ...surroundings,
      out: {
        ...surroundings.out,
        write: (text, done) => {
          if (first) {
            first = false;
            throw broken;
          }
          return surroundings.out.write(text, done);
        },
      },
    });
    const { err } = surroundings.printed();
    expect(status).toBe(1);
    expect(err).toContain("Error: broken on purpose\n    at ");
    expect(err).toContain("This is a fault of faultglow");
  });

  /** What is told of an error that loading throws. */
  async function toldOf(message: string, code?: string): Promise<{ status: number; err: string }> {
    const surroundings = fakeSurroundings();
    const error = Object.assign(new Error(message), code === undefined ? {} : { code });
    const write = () => {
      throw error;
    };
    const status = await main(["--version"], { ...surroundings, out: { ...surroundings.out, write } });
    return { status, err: surroundings.printed().err };
  }

  // The words of Node 20 (lib/internal/modules/cjs/loader.js and esm/resolve.js) and of sharp 0.35 (dist/sharp.cjs).
  it.each([
    ["Cannot find module 'sharp'\nRequire stack:\n- a", "MODULE_NOT_FOUND"],
    ["Cannot find module '@img/colour'\nRequire stack:\n- a", "MODULE_NOT_FOUND"],
    ["Cannot find package 'pdfkit' imported from /tool/dist/report/pdf.js", "ERR_MODULE_NOT_FOUND"],
    ['Could not load the "sharp" module using the linux-x64 runtime\nPossible solutions:', undefined],
  ])(
    "says what to do where a package is missing or of another kind of machine: %j",
    async (message, code) => {
      const [line] = message.split("\n");
      expect(await toldOf(message, code)).toEqual({
        status: 2,
        err: `E_MACHINE: a package that this needs does not work here: ${line}. Run faultglow doctor, which says what is wrong and what to do.\n`,
      });
    },
  );

  it.each([
    ["Cannot find module './main.cjs'\nRequire stack:\n- a", "MODULE_NOT_FOUND"],
    ["Cannot find module '/tool/dist/cli/rest.cjs'\nRequire stack:\n- a", "MODULE_NOT_FOUND"],
    ["Cannot find module 'C:\\tool\\dist\\cli\\rest.cjs'\nRequire stack:\n- a", "MODULE_NOT_FOUND"],
    ["Cannot find module '/tool/dist/cli/a.js' imported from /tool/dist/cli/b.js", "ERR_MODULE_NOT_FOUND"],
    ["Could not load the board", undefined],
  ])("calls a file of its own that is missing no package: %j", async (message, code) => {
    const { status, err } = await toldOf(message, code);
    expect([status, err]).toEqual([1, expect.stringContaining("This is a fault of faultglow")]);
  });
});
