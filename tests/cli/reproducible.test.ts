// The same frames, options and version give the same bytes: again, in another time zone and language, with few threads
// and with many, and under every Node that FAULTGLOW_NODES names (paths to programs, separated like PATH).
import { createHash } from "node:crypto";
import { mkdir, readFile } from "node:fs/promises";
import { delimiter, join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { makeFolder, makeFrame, writeCsv } from "./make-frames.js";
import { type CliOptions, PROJECT, runCli } from "./run-cli.js";

const NODES = (process.env["FAULTGLOW_NODES"] ?? "").split(delimiter).filter((path) => path !== "");
const SAMPLES = join(PROJECT, "sample-frames");
/** Each of the ways through the chain: a pair with a board, a burst, frames alone. */
const FINDS: Readonly<Record<string, readonly string[]>> = {
  "a pair on a board": [
    ...["--baseline", join(SAMPLES, "attempt-1/baseline"), "--powered", join(SAMPLES, "attempt-1/powered")],
    ...["--board", join(SAMPLES, "board.json"), "--view", join(SAMPLES, "attempt-1/view-top.json")],
    ...["--volts", "0.9", "--amps", "0.278"],
  ],
  "a burst on a board": [
    ...["--baseline", join(SAMPLES, "attempt-2/baseline"), "--powered", join(SAMPLES, "attempt-2/powered")],
    ...["--board", join(SAMPLES, "board.json"), "--view", join(SAMPLES, "attempt-2/view-top.json")],
    ...["--rate", "2"],
  ],
  "frames alone": [
    ...["--baseline", join(SAMPLES, "attempt-1/baseline"), "--powered", join(SAMPLES, "attempt-1/powered")],
  ],
};

let folder: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder, remove } = await makeFolder());
});
afterAll(() => remove());

/** Run the command in surroundings of its own. @returns what it printed. */
async function runIn(
  words: readonly string[],
  surroundings: Pick<CliOptions, "env" | "node"> = {},
): Promise<string> {
  const { status, out, err } = await runCli(words, { cwd: folder, ...surroundings });
  expect(status, err).toBe(0);
  return out;
}

/** Findings, and the hashes of all that is written beside them. */
async function bytesOf(
  words: readonly string[],
  surroundings?: Parameters<typeof runIn>[1],
): Promise<string[]> {
  const out = join(
    folder,
    createHash("sha256")
      .update(JSON.stringify([words, surroundings]))
      .digest("hex")
      .slice(0, 9),
  );
  const findings = await runIn(["find", ...words, "--json", "--out", out], surroundings);
  const names = ["findings.json", "report.html", "overlay.png"];
  const hashes = await Promise.all(
    names.map(async (name) =>
      createHash("sha256")
        .update(await readFile(join(out, name)))
        .digest("hex"),
    ),
  );
  return [findings, ...hashes];
}

describe.each(Object.entries(FINDS))("%s", (_, words) => {
  let first: string[];
  beforeAll(async () => {
    first = await bytesOf(words);
    expect(JSON.parse(first[0]!).hotspots.length).toBeGreaterThan(0);
  });

  it("again, in another zone and another language", async () => {
    const env = { TZ: "Asia/Kolkata", LANG: "de_DE.UTF-8", LC_ALL: "tr_TR.UTF-8", NODE_ENV: "production" };
    expect(await bytesOf(words, { env })).toEqual(first);
  });

  it("with the heap of a small machine and a single thread beside the main one", async () => {
    const env = { NODE_OPTIONS: "--max-old-space-size=200 --max-semi-space-size=1", UV_THREADPOOL_SIZE: "1" };
    expect(await bytesOf(words, { env })).toEqual(first);
  });

  it.skipIf(NODES.length === 0).each(NODES)("under %s", async (node) => {
    expect(await bytesOf(words, { node })).toEqual(first);
  });
});

describe("many files", () => {
  it("are the same frames however many threads the system gives for reading them", async () => {
    await mkdir(join(folder, "burst"));
    const rows = makeFrame(9, 1.8, 16, 12);
    for (let i = 0; i < 620; i++)
      await writeCsv(
        join(folder, "burst", `${i}.csv`),
        rows.map((row) => row.map((value) => value + 0.001 * ((i * 7919) % 97))),
      );
    await writeCsv(join(folder, "off.csv"), makeFrame(8, 0, 16, 12));
    const words = ["find", "--baseline", "off.csv", "--powered", "burst", "--json"];
    const one = await runIn(words, { env: { UV_THREADPOOL_SIZE: "1" } });
    expect(await runIn(words, { env: { UV_THREADPOOL_SIZE: "8" } })).toBe(one);
  });
});
