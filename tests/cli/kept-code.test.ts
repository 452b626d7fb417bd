// The command's parts, and their code as the engine made it at the build: used where it can be, and never needed.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { cp, mkdtemp, readFile, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { getPriority, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { PROJECT, VERSION } from "./run-cli.js";

const BUILT = fileURLToPath(new URL("../../dist/cli/", import.meta.url));
const kept = existsSync(BUILT) ? readdirSync(BUILT).filter((name) => name.endsWith(".code")) : [];
/** Fewest bytes of WebAssembly that are the tool's own: Node has some too. */
const KERNEL_BYTES = 30_000;
/** The piece that a command frees so that the C library keeps what is freed later (start-command.cjs, FREED_BYTES). */
const FREED_BYTES = 8 * 1024 * 1024;
/** Tells which files a command reads as scripts, whether the engine took what was kept of each, how often it compiled
 *  kernels, and whether it has freed memory kept.
 */
const TELL = `
const vm = require("node:vm");
const told = [];
let compiled = 0;
let keeps = false;
globalThis.ArrayBuffer = new Proxy(ArrayBuffer, {
  construct(made, [bytes, ...words]) {
    if (bytes === ${FREED_BYTES}) keeps = true;
    return new made(bytes, ...words);
  },
});
WebAssembly.Module = class extends WebAssembly.Module {
  constructor(bytes) {
    super(bytes);
    if (bytes.byteLength > ${KERNEL_BYTES}) compiled++;
  }
};
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
  writeFileSync(process.env.FAULTGLOW_TOLD, JSON.stringify({ told, behind, compiled, keeps }));
});
`;
const attempt = join(PROJECT, "sample-frames/attempt-1");
const FIND = ["find", "--baseline", join(attempt, "baseline"), "--powered", join(attempt, "powered")];

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

  /** Run a command of the copy. @returns what it tells of its scripts, by how much its threads are behind, how often
   *  kernels were compiled, whether freed memory is kept, and what it printed. */
  async function toldBy(
    words: readonly string[],
    engine: readonly string[] = [],
  ): Promise<{
    told: [string, string][];
    behind: number[];
    compiled: number;
    keeps: boolean;
    stdout: string;
  }> {
    const file = join(folder, "told.json");
    const command = [...engine, "--require", join(folder, "tell.cjs"), join(folder, "bin/faultglow.js")];
    const { status, stdout, stderr } = spawnSync(process.execPath, [...command, ...words], {
      encoding: "utf8",
      env: { ...process.env, FAULTGLOW_TOLD: file },
    });
    expect([status, stderr]).toEqual([0, ""]);
    return { ...JSON.parse(await readFile(file, "utf8")), stdout };
  }

  /** What is told of a command's parts, by their names. */
  async function partsOf(...words: string[]): Promise<Record<string, string>> {
    const { told } = await toldBy(words);
    return Object.fromEntries(told.map(([name, state]) => [name.replace(/-[0-9a-f]{16}\.cjs$/, ""), state]));
  }

  it("is taken by the engine, and no part is read that a command has no need of", async () => {
    const find = [...FIND, "--quiet"];
    expect(await partsOf("--help")).toEqual({ command: "taken" });
    expect(await partsOf(...find)).toEqual({ command: "taken", kernels: "taken", find: "taken" });
    const view = join(PROJECT, "sample-frames/attempt-1/view-top.json");
    const board = ["--board", join(PROJECT, "sample-frames/board.json"), "--view", view];
    expect(await partsOf(...find, ...board)).toEqual({
      command: "taken",
      kernels: "taken",
      find: "taken",
      schemas: "taken",
    });
    expect(await partsOf(...find, "--out", join(folder, "out"))).toEqual({
      command: "taken",
      kernels: "taken",
      find: "taken",
      rest: "taken",
    });
  });

  it("holds apart what a run without a board needs, and does without", async () => {
    const ofFind = kept.filter((name) => name.startsWith("find-"));
    const few = ofFind.find((name) => name.includes(".few-"))!;
    const all = ofFind.find((name) => name !== few)!;
    const board = ["--board", join(PROJECT, "sample-frames/board.json")];
    const view = ["--view", join(attempt, "view-top.json")];
    expect(readFileSync(join(BUILT, few)).length).toBeLessThan(0.75 * readFileSync(join(BUILT, all)).length);
    await rm(join(folder, "dist/cli", all));
    expect(await partsOf(...FIND, "--quiet")).toMatchObject({ find: "taken" });
    expect(await partsOf(...FIND, "--quiet", ...board, ...view)).toMatchObject({ find: "none" });
    await cp(join(BUILT, all), join(folder, "dist/cli", all));
    await rm(join(folder, "dist/cli", few));
    expect(await partsOf(...FIND, "--quiet")).toMatchObject({ find: "taken" });
    await cp(join(BUILT, few), join(folder, "dist/cli", few));
  });

  it.skipIf(process.platform !== "linux" || getPriority() > 14)(
    "runs with the engine's other threads behind the command's own",
    async () => {
      const { behind } = await toldBy(["board", "check", join(PROJECT, "sample-frames/board.json")]);
      expect(behind.filter((steps) => steps === 0).length).toBeGreaterThan(0);
      expect(behind.filter((steps) => steps === 5).length).toBeGreaterThan(1);
    },
  );

  describe.skipIf(!process.versions.v8.startsWith("11."))("with few frames keeps freed memory", () => {
    const [off, on] = ["baseline", "powered"].map((role) => join(attempt, role, "frame-1.csv"));
    const pair = ["find", "--baseline", off!, "--powered", on!, "--quiet"];
    const swap = (from: string, to: string): string[] => pair.map((word) => (word === from ? to : word));
    const joined = (role: string): string[] => [
      "find",
      `--baseline=${join(attempt, "baseline", role)}`,
      "--powered",
      on!,
      "--quiet",
    ];
    it.each([
      ["a pair", pair, true],
      ["a folder", swap(on!, join(attempt, "powered")), false],
      ["a folder, joined to its option", joined(""), false],
      ["a file, joined to its option", joined("frame-1.csv"), true],
      ["a pattern", swap(on!, join(attempt, "powered/*.csv")), false],
      ["a pattern of brackets", swap(on!, join(attempt, "powered/frame-[12].csv")), false],
    ])("%s", async (_, words, keeps) => {
      expect((await toldBy(words)).keeps).toBe(keeps);
    });

    it("a pair, with a folder that is there to write to", async () => {
      expect((await toldBy([...pair, "--out", await mkdtemp(join(folder, "out-"))])).keeps).toBe(true);
    });
  });

  it("is refused for another text", async () => {
    const name = readdirSync(BUILT).find((one) => /^command-[0-9a-f]{16}\.cjs$/.test(one))!;
    const copy = join(folder, "dist/cli", name);
    await writeFile(copy, `${readFileSync(join(BUILT, name), "latin1")} `);
    expect(await partsOf("--version")).toEqual({ command: "refused" });
    await cp(join(BUILT, name), copy);
  });

  const keptKernels = kept.find((name) => name.includes(".wasm-")) ?? "";
  /** Where in the file what was kept begins, and begins once more: the length, the kernels' bytes, and what was made of
   *  them. */
  const starts = (bytes: Buffer): number[] =>
    [0, bytes.length / 2].map((at) => at + 4 + bytes.readUInt32LE());

  describe.skipIf(keptKernels === "")("of the kernels", () => {
    const file = (): string => join(folder, "dist/cli", keptKernels);
    let usual: string;
    beforeAll(async () => {
      const { compiled, stdout } = await toldBy([...FIND, "--json"]);
      expect(compiled).toBe(0);
      usual = stdout;
    });
    afterEach(() => cp(join(BUILT, keptKernels), file()));

    // The file begins with the engine's mark, its version, the processor's features and the flags, 4 bytes each: V8 11,
    // src/wasm/wasm-serialization.cc, WriteHeader.
    it.each([
      ["another version of the engine", 4],
      ["a processor with other features", 8],
      ["other flags", 12],
    ])("made for %s, is refused", async (_, at) => {
      const bytes = await readFile(file());
      for (const start of starts(bytes)) bytes[start + at]! ^= 1;
      await writeFile(file(), bytes);
      expect(await toldBy([...FIND, "--json"])).toMatchObject({ compiled: 1, stdout: usual });
    });

    it.each([0, 1])("damaged, is not run", async (half) => {
      const bytes = await readFile(file());
      const code = starts(bytes)[half]! + 1000;
      bytes.fill(0xcc, code, code + 50_000);
      await writeFile(file(), bytes);
      expect(await toldBy([...FIND, "--json"])).toMatchObject({ compiled: 1, stdout: usual });
    });

    it("missing, or of no use under the flags at hand, changes no byte of what is found", async () => {
      expect(await toldBy([...FIND, "--json"], ["--stack-size=900"])).toMatchObject({
        compiled: 1,
        stdout: usual,
      });
      await rm(file());
      expect(await toldBy([...FIND, "--json"])).toMatchObject({ compiled: 1, stdout: usual });
    });
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
    expect(run(...FIND)).toMatchObject({ status: 0, stderr: "" });
  });
});
