import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { PROJECT, runCli } from "./run-cli.js";

const SAMPLES = join(PROJECT, "sample-frames");
const sample = (name: string): string => join(SAMPLES, name);
const WORDS = [
  "board",
  "place",
  "--from",
  sample("attempt-1/baseline"),
  "--from-view",
  sample("attempt-1/view-top.json"),
  "--board",
  sample("board.json"),
];

const folders: string[] = [];
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true });
});

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-place-"));
  folders.push(folder);
  return folder;
}

interface View {
  readonly kind: string;
  readonly fiducials: readonly { readonly board: [number, number]; readonly pixel: [number, number] }[];
}

/** The first attempt's baseline with its rows and columns in another order. */
function writeChanged(change: (rows: string[][]) => string[][]): string {
  const rows = readFileSync(sample("attempt-1/baseline/frame-1.csv"), "utf8")
    .trim()
    .split("\n")
    .map((row) => row.split(","));
  const file = join(newFolder(), "frame.csv");
  writeFileSync(
    file,
    `${change(rows)
      .map((row) => row.join(","))
      .join("\n")}\n`,
  );
  return file;
}

describe("faultglow board place", () => {
  it("writes a view that find takes, and says how sure it is", async () => {
    const out = join(newFolder(), "view.json");
    const to = sample("attempt-3/baseline");
    const run = await runCli([...WORDS, "--to", to, "--out", out]);
    expect(run.status, run.err).toBe(0);
    expect(run.out).toMatch(
      /The top of the board lies turned by 0\.0° and 1\.00+ times the size; placed to 0\.0\d+ mm/,
    );
    const view = JSON.parse(readFileSync(out, "utf8")) as View;
    expect(view.kind).toBe("faultglow/view");
    // The camera of the samples stands still, so the view is the earlier one's. Its clicks are 0.3 px off each, and
    // what is written is their fit, not the clicks: 1 px is three of their errors.
    const clicked = JSON.parse(readFileSync(sample("attempt-1/view-top.json"), "utf8")) as View;
    for (const { board, pixel } of view.fiducials) {
      const same = clicked.fiducials.find((one) => one.board.join() === board.join());
      expect(same, board.join()).toBeDefined();
      expect(Math.hypot(pixel[0] - same!.pixel[0], pixel[1] - same!.pixel[1])).toBeLessThan(1);
    }
    const find = await runCli([
      "find",
      "--baseline",
      to,
      "--powered",
      sample("attempt-3/powered"),
      "--board",
      sample("board.json"),
      "--view",
      out,
      "--json",
    ]);
    expect(find.status, find.err).toBe(0);
    const findings = JSON.parse(find.out) as { suspects: { ref: string; normallyWarm: boolean }[] };
    expect(findings.suspects.find((one) => !one.normallyWarm)?.ref).toBe("U6");
  });

  it("prints the placing alone with --json, and refuses to write over a file", async () => {
    const out = join(newFolder(), "view.json");
    writeFileSync(out, "mine");
    const words = [...WORDS, "--to", sample("attempt-2/baseline"), "--json"];
    const run = await runCli(words);
    expect(run.status, run.err).toBe(0);
    const placing = JSON.parse(run.out) as { kind: string; sigmaMm: number; view: View; seenShare: number };
    expect(placing).toMatchObject({ kind: "faultglow/placing", version: 1, seenShare: 1 });
    expect(placing.sigmaMm).toBeGreaterThan(0);
    expect(placing.view.fiducials.length).toBeGreaterThanOrEqual(4);
    const refused = await runCli([...words, "--out", out]);
    expect(refused).toMatchObject({ status: 2, out: "" });
    expect(refused.err).toContain("E_OUTPUT");
    expect(readFileSync(out, "utf8")).toBe("mine");
  });

  it("asks for fiducials where the board lies otherwise, and writes nothing", async () => {
    const to = writeChanged((rows) => [...rows].reverse().map((row) => [...row].reverse()));
    const run = await runCli([...WORDS, "--to", to]);
    expect(run).toMatchObject({ status: 2, out: "" });
    expect(run.err).toMatch(/E_PLACE_DOUBT: .*fiducials/);
  });

  it("says that a view of one side is no use for the other", async () => {
    const run = await runCli([...WORDS, "--to", sample("attempt-3/baseline"), "--side", "bottom"]);
    expect(run).toMatchObject({ status: 2, out: "" });
    expect(run.err).toContain("E_PLACE_SIDE: the earlier view shows the top, the new baseline the bottom");
  });

  it("misses no option in silence", async () => {
    const run = await runCli(WORDS);
    expect(run.status).toBe(2);
    expect(run.err).toContain("--to");
    const stray = await runCli([...WORDS, "--to", "--json"]);
    expect(stray.status).toBe(2);
    expect(stray.err).toContain("E_USAGE");
  });
});
