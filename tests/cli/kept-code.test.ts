// The command's parts, and their code as the engine made it at the build: used where it can be, and never needed.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { cp, mkdtemp, readFile, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { getPriority, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROJECT, VERSION } from "./run-cli.js";

const BUILT = fileURLToPath(new URL("../../dist/cli/", import.meta.url));
const kept = existsSync(BUILT) ? readdirSync(BUILT).filter((name) => name.endsWith(".code")) : [];
/** Tells which files a command reads as scripts, and whether the engine took what was kept of each. */
const TELL = `
const vm = require("node:vm");
const told = [];
vm.Script = class extends vm.Script {
  constructor(text, options) {
    super(text, options);
    told.push([options.filename, options.cachedData === undefined ? "none" : this.cachedDataRejected ? "refused" : "taken"]);
  }
};
process.on("exit", () => {
  const { readdirSync, writeFileSync } = require("node:fs");
  const { getPriority } = require("node:os");
  const threads = process.platform === "linux" ? readdirSync("/proc/self/task").map(Number) : [];
  const behind = threads.map((thread) => getPriority(thread) - getPriority());
  writeFileSync(process.env.FAULTGLOW_TOLD, JSON.stringify({ told, behind }));
});
`;

describe.skipIf(kept.length === 0)("the command's kept code", () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "faultglow-kept-"));
    for (const part of ["bin", "dist/cli", "package.json"]) {
      await cp(join(PROJECT, part), join(folder, part), { recursive: true });
    }
    await symlink(join(PROJECT, "node_modules"), join(folder, "node_modules"));
    await writeFile(join(folder, "tell.cjs"), TELL);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  /** Run a command of the copy. @returns what it tells of its scripts, and by how much its threads are behind. */
  async function toldBy(...words: string[]): Promise<{ told: [string, string][]; behind: number[] }> {
    const file = join(folder, "told.json");
    const command = ["--require", join(folder, "tell.cjs"), join(folder, "bin/faultglow.js"), ...words];
    const { status, stderr } = spawnSync(process.execPath, command, {
      encoding: "utf8",
      env: { ...process.env, FAULTGLOW_TOLD: file },
    });
    expect([status, stderr]).toEqual([0, ""]);
    return JSON.parse(await readFile(file, "utf8"));
  }

  /** What is told of a command's parts, by their names. */
  async function partsOf(...words: string[]): Promise<Record<string, string>> {
    const { told } = await toldBy(...words);
    return Object.fromEntries(told.map(([name, state]) => [name.replace(/-[0-9a-f]{16}\.cjs$/, ""), state]));
  }

  it("is taken by the engine, and no part is read that a command has no need of", async () => {
    const attempt = join(PROJECT, "sample-frames/attempt-1");
    const frames = ["--baseline", join(attempt, "baseline"), "--powered", join(attempt, "powered")];
    const find = ["find", ...frames, "--quiet"];
    expect(await partsOf("--help")).toEqual({ command: "taken" });
    expect(await partsOf(...find)).toEqual({ command: "taken", kernels: "taken", find: "taken" });
    expect(await partsOf(...find, "--out", join(folder, "out"))).toEqual({
      command: "taken",
      kernels: "taken",
      find: "taken",
      rest: "taken",
    });
  });

  it.skipIf(process.platform !== "linux" || getPriority() > 14)(
    "runs with the engine's other threads behind the command's own",
    async () => {
      const { behind } = await toldBy("board", "check", join(PROJECT, "sample-frames/board.json"));
      expect(behind.filter((steps) => steps === 0).length).toBeGreaterThan(0);
      expect(behind.filter((steps) => steps === 5).length).toBeGreaterThan(1);
    },
  );

  it("is refused for another text", async () => {
    const name = readdirSync(BUILT).find((one) => /^command-[0-9a-f]{16}\.cjs$/.test(one))!;
    const copy = join(folder, "dist/cli", name);
    await writeFile(copy, `${readFileSync(join(BUILT, name), "latin1")} `);
    expect(await partsOf("--version")).toEqual({ command: "refused" });
    await cp(join(BUILT, name), copy);
  });

  it("names no folder of the machine that it was built on", () => {
    for (const name of kept) expect(readFileSync(join(BUILT, name), "latin1")).not.toContain(PROJECT);
  });

  it.each([
    ["cut short", (file: string, bytes: number) => truncate(file, Math.floor(bytes / 3) * 2)],
    ["empty", (file: string) => truncate(file, 0)],
    [
      "damaged",
      async (file: string, length: number) => {
        const bytes = await readFile(file);
        bytes.fill(0x55, Math.floor(length / 3), Math.floor(length / 3) + 900);
        await writeFile(file, bytes);
      },
    ],
    ["missing", (file: string) => rm(file)],
  ])("%s, it is left aside", async (_, spoil) => {
    for (const name of kept) {
      const copy = join(folder, "dist/cli", name);
      await cp(join(BUILT, name), copy);
      await spoil(copy, readFileSync(copy).length);
    }
    const run = (...words: string[]) =>
      spawnSync(process.execPath, [join(folder, "bin/faultglow.js"), ...words], { encoding: "utf8" });
    expect(run("--version")).toMatchObject({ status: 0, stdout: `${VERSION}\n`, stderr: "" });
    const board = join(PROJECT, "sample-frames/board.json");
    expect(run("board", "check", board)).toMatchObject({ status: 0, stderr: "" });
  });
});
