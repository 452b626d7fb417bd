// The files that the command is made of.
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { PROJECT } from "./run-cli.js";

const BUILT = join(PROJECT, "dist/cli");
/** How a module of its own, run when it is first asked for, begins in a part. */
const BY_MODULE = /"src\/[\w/-]+\.ts"\(\)\{/;

describe("the command's parts", () => {
  it("have their modules in one scope, but for the last one, whose modules are run when they are asked for", async () => {
    const parts = (await readdir(BUILT)).filter((name) => /^[a-z]+-[0-9a-f]{16}\.cjs$/.test(name)).sort();
    expect(parts.map((name) => name.slice(0, -21))).toEqual([
      "command",
      "find",
      "kernels",
      "rest",
      "schemas",
    ]);
    const texts = await Promise.all(parts.map((name) => readFile(join(BUILT, name), "latin1")));
    expect(parts.filter((_, k) => BY_MODULE.test(texts[k]!))).toEqual([expect.stringMatching(/^rest-/)]);
  });

  it("are named in the file that begins it, so that no list of them has to be read", async () => {
    const start = await readFile(join(BUILT, "main.cjs"), "utf8");
    for (const name of await readdir(BUILT)) {
      if (/^[a-z]+-[0-9a-f]{16}\.cjs$/.test(name)) expect(start).toContain(`"${name.slice(0, -4)}"`);
    }
    expect(await readdir(BUILT)).not.toContain("parts.json");
  });
});
