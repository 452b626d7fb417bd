// The command's code as the engine made it at the build: used where it can be, and never needed.
import { spawnSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { cp, mkdtemp, readFile, rm, symlink, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { Script } from "node:vm";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROJECT, VERSION } from "./run-cli.js";

const BUILT = fileURLToPath(new URL("../../dist/cli/", import.meta.url));
const kept = existsSync(BUILT) ? readdirSync(BUILT).find((name) => name.endsWith(".code")) : undefined;

describe.skipIf(kept === undefined)("the command's kept code", () => {
  let folder: string;
  let copy: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "faultglow-kept-"));
    for (const part of ["bin", "dist/cli", "package.json"]) {
      await cp(join(PROJECT, part), join(folder, part), { recursive: true });
    }
    await symlink(join(PROJECT, "node_modules"), join(folder, "node_modules"));
    copy = join(folder, "dist/cli", kept!);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it("is taken by the engine for the file that it was made of", () => {
    const source = readFileSync(
      join(BUILT, `${kept!.slice(0, "command-0123456789abcdef".length)}.cjs`),
      "latin1",
    );
    const accepted = (text: string) =>
      new Script(text, { cachedData: readFileSync(join(BUILT, kept!)) }).cachedDataRejected;
    expect(accepted(source)).toBe(false);
    expect(accepted(`${source} `)).toBe(true);
  });

  it("names no folder of the machine that it was built on", () => {
    const bytes = readFileSync(join(BUILT, kept!), "latin1");
    expect(bytes).not.toContain(PROJECT);
  });

  it.each([
    ["cut short", (file: string) => truncate(file, 300_000)],
    ["empty", (file: string) => truncate(file, 0)],
    [
      "damaged",
      async (file: string) => {
        const bytes = await readFile(file);
        bytes.fill(0x55, 200_000, 200_900);
        await writeFile(file, bytes);
      },
    ],
    ["missing", (file: string) => rm(file)],
  ])("%s, it is left aside", async (_, spoil) => {
    await cp(join(BUILT, kept!), copy);
    await spoil(copy);
    const words = [join(folder, "bin/faultglow.js"), "--version"];
    expect(spawnSync(process.execPath, words, { encoding: "utf8" })).toMatchObject({
      status: 0,
      stdout: `${VERSION}\n`,
      stderr: "",
    });
  });
});
