// All JSON that the command writes and prints, for frames with holes in them: it is read back equal, and holds no NaN.
import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type * as z from "zod";
import { boardMapSchema, viewSchema } from "../../src/board/board-schema.js";
import { parseBoardMap } from "../../src/board/parse-board-map.js";
import { comparisonSchema } from "../../src/compare/comparison-schema.js";
import { excessSchema } from "../../src/compare/excess-schema.js";
import { profileSchema } from "../../src/compare/profile-schema.js";
import { evidenceSchema } from "../../src/evidence/evidence-schema.js";
import { findingsSchema } from "../../src/findings/findings-schema.js";
import { attemptSchema } from "../../src/job/attempt-schema.js";
import { entrySchema } from "../../src/job/entry-schema.js";
import { jobSchema } from "../../src/job/job-schema.js";
import { placingSchema } from "../../src/place/placing-schema.js";
import { badNumbers } from "../unit/findings/make-attempt.js";
import { makeBoard, makeFolder, makeFrame, makeView, SPOT, writeCsv } from "./make-frames.js";
import { PROJECT, runCli } from "./run-cli.js";

const KINDS: Readonly<Record<string, z.ZodType>> = {
  "faultglow/board": boardMapSchema,
  "faultglow/view": viewSchema,
  "faultglow/findings": findingsSchema,
  "faultglow/comparison": comparisonSchema,
  "faultglow/profile": profileSchema,
  "faultglow/excess": excessSchema,
  "faultglow/evidence": evidenceSchema,
  "faultglow/placing": placingSchema,
  "faultglow/job": jobSchema,
  "faultglow/attempt": attemptSchema,
  "faultglow/entry": entrySchema,
};

let cwd: string;
let remove: () => Promise<void>;
/** What the commands printed as JSON. */
const printed: unknown[] = [];
const run = async (...words: string[]): Promise<void> => {
  const { status, out, err } = await runCli(words, { cwd });
  expect([status, /\n\s+at /.test(err)], `${words.join(" ")}: ${err}`).toEqual([0, false]);
  if (words.includes("--json"))
    printed.push(
      ...out
        .trim()
        .split(/\n(?=[{[])/)
        .map((text) => JSON.parse(text)),
    );
};

const board = ["--board", "board.json", "--view", "view.json"];
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  // Holes in each frame, none of them where the others are; one over the hot spot's flank.
  const holed = (seed: number, peakK: number): number[][] =>
    makeFrame(seed, peakK).map((row, y) =>
      row.map((value, x) =>
        (x * 7 + y * 13 + seed) % 41 === 0 || (x === 44 && y > 15) ? Number.NaN : value,
      ),
    );
  const still = makeFrame(1, 0).map((row) => row.map(() => 24.5));
  for (const [name, rows] of [
    ["off", holed(1, 0)],
    ["on", holed(2, SPOT.peakK)],
    ["off-2", holed(3, 0)],
    ["on-2", holed(4, 0.7 * SPOT.peakK)],
    ["still", still],
  ] as const)
    await writeCsv(join(cwd, `${name}.csv`), rows);
  await writeFile(join(cwd, "board.json"), JSON.stringify(makeBoard()));
  await writeFile(join(cwd, "view.json"), JSON.stringify(makeView()));
  await mkdir(join(cwd, "out"));
  const frames = (off: string, on: string): string[] => [
    "--baseline",
    `${off}.csv`,
    "--powered",
    `${on}.csv`,
  ];
  const power = ["--volts", "1.1", "--amps", "0.2"];
  await run("find", ...frames("off", "on"), ...board, ...power, "--out", "out/1", "--json");
  await run("find", ...frames("off-2", "on-2"), ...board, "--out", "out/2", "--json");
  await run("find", ...frames("still", "still"), ...board, "--out", "out/3", "--json");
  await run("find", ...frames("off", "on"), "--out", "out/4", "--json");
  const findings = (n: number): string => `out/${n}/findings.json`;
  await run("compare", findings(1), findings(2), "--out", "out/5", "--json");
  await run("compare", findings(1), findings(3), "--out", "out/6", "--json");
  await run("compare", "--healthy", findings(2), findings(3), "--out", "out/good");
  await run("compare", findings(1), "--healthy", "out/good/profile.json", "--json");
  const sample = (name: string): string => join(PROJECT, "sample-frames", name);
  const from = ["--from", sample("attempt-1/baseline"), "--from-view", sample("attempt-1/view-top.json")];
  const to = ["--to", sample("attempt-3/baseline"), "--board", sample("board.json")];
  await run("board", "place", ...from, ...to, "--out", "out/view.json", "--json");
  await run("board", "export", "board.json", "--out", "out/board.svg");
  await run("board", "import", "out/board.svg", "--out", "out/board.json");
  await run("job", "new", "job", "--device", "soil meter", "--board", "board.json", "--complaint", "dead");
  await run("job", "attempt", "job", ...frames("off", "on"), "--view", "view.json", ...power, "--json");
  await run("job", "action", "job", "--replaced", "U5");
  await run("job", "reading", "job", "--ref", "C2", "--resistance", "12", "--json");
  await run("job", "attempt", "job", ...frames("off-2", "on-2"), "--view", "view.json", "--json");
  await run("job", "show", "job", "--json");
  await run("job", "check", "job", "--json");
  await run("job", "index", ".", "--json");
  await run("job", "report", "job");
});
afterAll(() => remove());

/** Every value of a JSON file in the folder; of a journal, each line. */
async function written(): Promise<(readonly [string, unknown])[]> {
  const names = (await readdir(cwd, { recursive: true })).filter((name) => /\.jsonl?$/.test(name)).sort();
  const values = await Promise.all(
    names.map(async (name) => {
      const text = await readFile(join(cwd, name), "utf8");
      const texts = name.endsWith("l") ? text.trimEnd().split("\n") : [text];
      return texts.map((one, line) => [`${name} ${line}`, JSON.parse(one)] as const);
    }),
  );
  return values.flat();
}

it("holds no NaN, nothing infinite and nothing undefined", async () => {
  const values = [...(await written()), ...printed.map((value, i) => [`printed ${i}`, value] as const)];
  expect(values.length).toBeGreaterThan(25);
  for (const [name, value] of values) expect([name, badNumbers(value)]).toEqual([name, []]);
});

/** A value and all in it that say of what kind they are. */
function kindsIn(value: unknown): { readonly kind: string }[] {
  if (typeof value !== "object" || value === null) return [];
  const own = typeof (value as { kind?: unknown }).kind === "string" ? [value as { kind: string }] : [];
  return [...own, ...Object.values(value).flatMap(kindsIn)];
}

it("is read back equal by the schema of its kind", async () => {
  const seen = new Set<string>();
  const values = [...(await written()), ...printed.map((value, i) => [`printed ${i}`, value] as const)];
  for (const [name, value] of values) {
    for (const one of kindsIn(value)) {
      const schema = KINDS[one.kind];
      if (schema === undefined) continue;
      seen.add(one.kind);
      // Keys that a schema did not know would be missing.
      expect([name, schema.parse(one)]).toEqual([name, one]);
    }
  }
  expect([...seen].sort()).toEqual(Object.keys(KINDS).sort());
});

it("a map drawn as SVG is imported as the same map", async () => {
  const read = async (name: string) =>
    parseBoardMap(JSON.parse(await readFile(join(cwd, name), "utf8")), name).board;
  const [was, is] = [await read("board.json"), await read("out/board.json")];
  expect(is.regions).toEqual(was.regions);
  expect(is.outline).toEqual(was.outline);
});
