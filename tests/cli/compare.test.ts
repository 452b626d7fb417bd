import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { comparisonSchema } from "../../src/compare/comparison-schema.js";
import { excessSchema } from "../../src/compare/excess-schema.js";
import { profileSchema } from "../../src/compare/profile-schema.js";
import { makeFolder } from "./make-frames.js";
import { PROJECT, runCli } from "./run-cli.js";

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  for (const attempt of ["attempt-1", "attempt-3"]) {
    const folder = join(PROJECT, "sample-frames", attempt);
    const { volts, amps } = JSON.parse(await readFile(join(folder, "attempt.json"), "utf8"));
    const { out } = await runCli([
      "find",
      ...["--baseline", join(folder, "baseline"), "--powered", join(folder, "powered")],
      ...["--board", join(PROJECT, "sample-frames/board.json"), "--view", join(folder, "view-top.json")],
      ...["--volts", String(volts), "--amps", String(amps), "--json", "--quiet"],
    ]);
    await writeFile(join(cwd, `${attempt}.json`), out);
  }
  await writeFile(join(cwd, "view.json"), JSON.stringify({ kind: "faultglow/view", version: 1 }));
});
afterAll(() => remove());

const compare = (...words: string[]) => runCli(["compare", ...words], { cwd });
const PAIR = ["attempt-1.json", "attempt-3.json"] as const;

describe("faultglow compare", () => {
  // Attempt 3 was fed three times the power of attempt 1 at four times the volts: by Ohm's law U6 would have taken a
  // seventeenth of its 77 mW in attempt 1, 4.5 mW. Twenty seconds after power-on, of a time constant of a hundred, the
  // board had not come to rest (truth.json), and watts show little then: 7 mW is the least that would have been found.
  // So nobody can tell.
  it("the sample job: C6 was replaced and is cold, U6 heats now, and before nobody could tell", async () => {
    const { status, out, err } = await compare(...PAIR, "--replaced", "C6");
    expect([status, err]).toEqual([0, ""]);
    expect(out.split("\n")[0]).toBe(
      "C6 was replaced and the heat at C6 is gone. U6 heats now; whether it did before is not sure: the earlier attempt could have " +
        "missed heat as weak as in the later one.",
    );
    expect(out).toMatch(/\nC6 +gone /);
    expect(out).toMatch(/\nU6 +unsure /);
    expect(out).toContain("N_POWER_DIVIDED");
  });

  it("gives the comparison as JSON, alone on stdout, and files", async () => {
    const { status, out, err } = await compare(...PAIR, "--json", "--out", "result");
    expect(status).toBe(0);
    expect(err).toContain("comparison.html");
    const found = comparisonSchema.parse(JSON.parse(out));
    const change = Object.fromEntries(found.parts.map((part) => [part.ref, part.change]));
    expect(change).toMatchObject({ C6: "gone", U6: "unsure" });
    expect(await readFile(join(cwd, "result/comparison.json"), "utf8")).toBe(out);
    const page = await readFile(join(cwd, "result/comparison.html"), "utf8");
    expect(page).toContain(found.verdict);
  });

  it("the other way round: C6 is new, and of U6 nobody can tell", async () => {
    const { out } = await compare(PAIR[1], PAIR[0], "--json");
    const change = Object.fromEntries(
      JSON.parse(out).parts.map((p: { ref: string; change: string }) => [p.ref, p.change]),
    );
    expect(change).toMatchObject({ C6: "new", U6: "unsure" });
  });

  it("where the power is not known nothing is divided out, and U6 is new as well", async () => {
    for (const file of PAIR) {
      const findings = JSON.parse(await readFile(join(cwd, file), "utf8"));
      const inputs = { ...findings.inputs, volts: null, amps: null };
      await writeFile(join(cwd, `unfed-${file}`), JSON.stringify({ ...findings, inputs }));
    }
    const { out } = await compare(...PAIR.map((file) => `unfed-${file}`), "--replaced", "C6", "--quiet");
    expect(out).toBe(
      "C6 was replaced and the heat at C6 is gone, but it moved: U6 heats now and did not before.\n",
    );
  });

  it("prints the verdict alone with --quiet", async () => {
    const { out, err } = await compare(PAIR[0], PAIR[0], "--replaced", "C6", "--lifted", "R6", "--quiet");
    expect(err).toBe("");
    expect(out).toMatch(/^C6 was replaced and the heat there is still there: .*\n$/);
  });

  it("makes a healthy profile, and holds an attempt against it", async () => {
    const made = await compare("--healthy", "attempt-1.json", "--out", "good", "--quiet");
    expect([made.status, made.out]).toEqual([0, "Profile of 1 healthy attempt, 35 parts.\n"]);
    profileSchema.parse(JSON.parse(await readFile(join(cwd, "good/profile.json"), "utf8")));
    const { out } = await compare("attempt-3.json", "--healthy", "good/profile.json", "--json");
    const excess = excessSchema.parse(JSON.parse(out));
    expect(excess.parts.find(({ ref }) => ref === "U6")!.exceeds).toBe(true);
    expect(excess.parts.find(({ ref }) => ref === "C6")!.exceeds).toBe(false);
    const shown = await compare("attempt-3.json", "--healthy", "attempt-1.json", "--out", "more");
    expect(shown.out).toMatch(/^Warmer than in one healthy attempt: .*U6/);
    expect(shown.err).toContain("excess.json");
    const both = await compare(...PAIR, "--healthy", "good/profile.json", "--json");
    expect(comparisonSchema.parse(JSON.parse(both.out)).parts[0]!.healthyZ).toBeDefined();
    const printed = await compare("--healthy", "attempt-1.json");
    expect(printed.out).toContain("C6");
  });

  it("compares any two attempts of a job, which knows what was done in between and its good boards", async () => {
    const frames = (n: number) => {
      const folder = join(PROJECT, `sample-frames/attempt-${n}`);
      const view = ["--view", `${folder}/view-top.json`];
      return ["--baseline", `${folder}/baseline`, "--powered", `${folder}/powered`, ...view];
    };
    const job = (...words: string[]) =>
      runCli(["job", words[0]!, "job", ...words.slice(1), "--quiet"], { cwd });
    await job("new", "--device", "meter", "--board", join(PROJECT, "sample-frames/board.json"));
    await job("attempt", ...frames(1), "--volts", "0.9", "--amps", "0.278");
    await job("attempt", ...frames(1), "--volts", "0.9", "--amps", "0.278", "--healthy");
    await job("action", "--replaced", "C6");
    await job("attempt", ...frames(3), "--volts", "3.7", "--amps", "0.198");
    const { status, out, err } = await compare("--job", "job", "1", "3", "--json");
    expect([status, err]).toEqual([0, ""]);
    const found = comparisonSchema.parse(JSON.parse(out));
    expect(found.actions).toEqual([{ what: "replaced", ref: "C6" }]);
    expect([found.before.file, found.after.file]).toEqual(["attempt 1", "attempt 3"]);
    expect(found.parts.find(({ ref }) => ref === "C6")!.change).toBe("gone");
    expect(found.parts[0]!.healthyZ).toBeDefined();
    expect((await compare("--job", "job", "1", "2", "--quiet")).out).toMatch(
      /^The heat at C6 is still there\./,
    );
    for (const [words, message] of [
      [["--job", "job", "1", "9"], /E_USAGE: the job has no attempt 9.*It has 1, 2, 3/s],
      [["--job", "job", "1"], /E_USAGE: compare --job needs the numbers of two attempts, found 1/],
      [["--job", "job", "2", "2"], /E_USAGE: compare --job was given attempt 2 twice/],
      [["1", "2"], /E_USAGE: there is no file 1, .* Write "faultglow compare --job DIR 1 2"/],
      [["--job", "job", "1", "two"], /E_USAGE: compare --job needs the numbers/],
      [["--job", "job", "1", "2", "--replaced", "C6"], /E_USAGE: --job came with --replaced/],
      [["--job", "none", "1", "2"], /E_JOB_NONE/],
    ] as const) {
      const refused = await compare(...words);
      expect([refused.status, refused.out]).toEqual([2, ""]);
      expect(refused.err).toMatch(message);
    }
  });

  it("refuses words and files that can't be used, with exit status 2", async () => {
    for (const [words, message] of [
      [["attempt-1.json"], /E_USAGE: compare needs the findings of two attempts, found one file/],
      [[...PAIR, "attempt-1.json"], /E_USAGE: compare takes the findings of two attempts, found 3 files/],
      [["attempt-1.json", "view.json"], /E_FINDINGS_KIND: .*"faultglow\/view".*view\.json/],
      [["attempt-1.json", "none.json"], /E_JSON_READ: /],
      [[...PAIR, "--replaced", "C66"], /E_COMPARE_PART: .*"C66"/],
      [[...PAIR, "--healthy", "good/profile.json", "attempt-1.json"], /E_USAGE: --healthy takes one profile/],
    ] as const) {
      const { status, out, err } = await compare(...words);
      expect([status, out]).toEqual([2, ""]);
      expect(err).toMatch(message);
    }
  });
});
