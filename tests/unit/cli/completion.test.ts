// Scripts of completion, asked what they complete: by the shells themselves where these are installed.
import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { main } from "../../../src/cli/main.js";
import { fakeSurroundings } from "./fake-surroundings.js";

async function scriptOf(shell: string): Promise<string> {
  const surroundings = fakeSurroundings();
  expect(await main(["completion", shell], surroundings)).toBe(0);
  return surroundings.printed().out;
}

function has(shell: string): boolean {
  try {
    execFileSync(shell, ["-c", "exit"], { stdio: "ignore" });
    return true;
  } catch {
    return false;
  }
}

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "faultglow-completion-"));
  for (const name of ["burst a", "burst-b"]) mkdirSync(join(folder, name));
  for (const name of ["board.json", "bottom off.csv"]) writeFileSync(join(folder, name), "");
});
afterAll(() => rmSync(folder, { recursive: true }));

/** Lines as they are typed up to the TAB key, and what must be offered. */
const CASES: readonly (readonly [words: readonly string[], offered: readonly string[]])[] = [
  [["fi"], ["find"]],
  [
    ["job", "re"],
    ["reading", "remark", "report"],
  ],
  [["job", "attempt", "x", "--ba"], ["--baseline"]],
  [
    ["find", "--unit", ""],
    ["C", "F", "K"],
  ],
  [["find", "--unit", "C", "--ra"], ["--rate"]],
  [["guide", "tr"], ["troubleshooting"]],
  [
    ["completion", ""],
    ["bash", "fish", "zsh"],
  ],
  [
    ["find", "--baseline", "a.csv", "bo"],
    ["board.json", "bottom off.csv"],
  ],
  [["find", "--rate", "bo"], []],
  [
    ["bench", "--jobs", "b"],
    ["burst a", "burst-b"],
  ],
  [
    ["job", "show", "bu"],
    ["burst a", "burst-b"],
  ],
];

describe.skipIf(!has("bash"))("completion in bash (skipped where there is no bash)", () => {
  it("offers commands, options, their words, files and folders", async () => {
    writeFileSync(join(folder, ".script"), await scriptOf("bash"));
    const ask = ([words]: (typeof CASES)[number]): string =>
      `COMP_WORDS=(faultglow ${words.map((word) => `"${word}"`).join(" ")}); COMP_CWORD=${words.length}; ` +
      `COMPREPLY=(); _faultglow; printf '<%s>\\n' "\${COMPREPLY[@]}"; echo =`;
    const program = ["source ./.script", ...CASES.map(ask)].join("\n");
    const printed = execFileSync("bash", ["--norc", "-c", program], { cwd: folder, encoding: "utf8" });
    // Each offer is in brackets: several in one would be typed into the line together.
    const offers = (text: string): string[] => [...text.matchAll(/^<(.+)>$/gm)].map(([, offer]) => offer!);
    const answers = printed.split("=\n").map((text) => offers(text).sort());
    expect(answers.slice(0, -1)).toEqual(CASES.map(([, offered]) => offered));
  });

  it("is found by the shell under the command's name", async () => {
    writeFileSync(join(folder, ".script"), await scriptOf("bash"));
    const words = ["--norc", "-c", "source ./.script; complete -p faultglow"];
    expect(execFileSync("bash", words, { cwd: folder, encoding: "utf8" })).toBe(
      "complete -F _faultglow faultglow\n",
    );
  });
});

describe.skipIf(!has("fish"))("completion in fish (skipped where there is no fish)", () => {
  it("offers the same", async () => {
    writeFileSync(join(folder, ".script"), await scriptOf("fish"));
    const ask = ([words]: (typeof CASES)[number]): string =>
      `complete -C 'faultglow ${words.join(" ")}'; echo =`;
    const program = ["source ./.script", ...CASES.map(ask)].join("\n");
    const env = { ...process.env, HOME: folder };
    const printed = execFileSync("fish", ["-N", "-c", program], { cwd: folder, encoding: "utf8", env });
    const answers = printed.split("=\n").map((text) => {
      // A description follows after a TAB, a folder ends with a slash, and a blank is escaped.
      const lines = text
        .split("\n")
        .map((line) => line.split("\t")[0]!.replace(/\/$/, "").replaceAll("\\ ", " "));
      return [...new Set(lines)].filter(Boolean).sort();
    });
    expect(answers.slice(0, -1)).toEqual(CASES.map(([, offered]) => offered));
  });
});

describe.skipIf(!has("zsh"))("completion in zsh (skipped where there is no zsh)", () => {
  it("is a script that zsh reads, with a function for each command", async () => {
    const script = await scriptOf("zsh");
    writeFileSync(join(folder, ".script"), script);
    execFileSync("zsh", ["-f", "-n", ".script"], { cwd: folder });
    const program =
      "autoload -Uz compinit; compinit -u -D; source ./.script; print -l $_comps[faultglow]; functions _faultglow_job_attempt";
    const printed = execFileSync("zsh", ["-f", "-c", program], { cwd: folder, encoding: "utf8" });
    expect(printed).toMatch(/^_faultglow\n_faultglow_job_attempt \(\) \{/);
    expect(script).toContain(
      "'(--unit)--unit[unit of the values in text files, and of --gain and --offset]: :(C F K)'",
    );
  });

  it.each([
    ["find --baseline a b --un", "2|find|--un|"],
    ["find --baseline a --volts 1 --powered b c --un", "4|find|--volts|1|--un|"],
    ["find --baseline a b", "4|find|--baseline|a|b|"],
  ])("offers options after the values of an option that takes many: %s", async (typed, left) => {
    writeFileSync(join(folder, ".script"), await scriptOf("zsh"));
    // The parameters that zsh sets where it completes; what is left of the words is what its own function sees.
    const program =
      `compdef() { : }; source ./.script; typeset -A compstate; words=(${typed}); CURRENT=$#words; ` +
      "PREFIX=$words[-1]; _faultglow_pass --baseline --powered; echo -n \"$CURRENT|\"; printf '%s|' $words";
    const printed = execFileSync("zsh", ["-f", "-c", program], { cwd: folder, encoding: "utf8" });
    expect(printed).toBe(left);
  });
});

describe("completion", () => {
  it("refuses a shell that it does not know", async () => {
    const surroundings = fakeSurroundings();
    expect(await main(["completion", "tcsh"], surroundings)).toBe(2);
    expect(surroundings.printed().err).toMatch(/^E_USAGE: .*bash, zsh, fish/);
  });
});
