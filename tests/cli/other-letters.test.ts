// The command, bundled: what is typed with letters beyond ASCII is understood as by the sources.
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { PROJECT, runCli } from "./run-cli.js";

describe("the bundled command", () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), "faultglow-letters-"));
    const begun = await runCli(["job", "new", join(folder, "j"), "--device", "meter"]);
    expect(begun.status).toBe(0);
  });
  afterAll(() => rm(folder, { recursive: true, force: true }));

  it("has no letter beyond ASCII in the files that are read with one byte a letter", async () => {
    const built = join(PROJECT, "dist/cli");
    const names = (await readdir(built)).filter((one) => /-[0-9a-f]{16}\.cjs$/.test(one));
    expect(names).toHaveLength(5);
    for (const name of names) {
      const bytes = await readFile(join(built, name));
      expect([name, bytes.findIndex((byte) => byte > 0x7f)]).toEqual([name, -1]);
    }
  });

  it.each([
    ["--resistance", "4,7 Ω", 4.7],
    ["--resistance", "1.2 MΩ", 1_200_000],
    ["--diode", "−12 mV", -0.012],
    ["--diode", "∞", null],
    ["--current", "250 µA", 250e-6],
  ])("takes %s %s", async (option, typed, value) => {
    const words = ["job", "reading", join(folder, "j"), "--net", "VSYS", option, typed, "--json"];
    const { added } = JSON.parse((await runCli(words)).out);
    expect(added[0].said.reading).toMatchObject({ value, raw: typed });
  });

  it("takes a tolerance with its sign, and a range with a dash", async () => {
    const reference = async (typed: string) => {
      const words = ["job", "reading", join(folder, "j"), "--net", "VIO", "--diode", typed];
      const { added } = JSON.parse((await runCli([...words, "--reference", "--json"])).out);
      return added[0].said.reference;
    };
    expect(await reference("0.45 ± 0.02")).toMatchObject({ value: 0.45, tolerance: 0.02 });
    expect(await reference("0.40…0.45")).toMatchObject({ value: 0.4, upTo: 0.45 });
  });
});
