import { mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PNG } from "pngjs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { findingsSchema } from "../../src/findings/findings-schema.js";
import {
  makeBoard,
  makeFolder,
  makeFrame,
  makeView,
  makeViewBelow,
  SPOT,
  turnOver,
  writeCsv,
} from "./make-frames.js";
import { runCli } from "./run-cli.js";

let cwd: string;
let remove: () => Promise<void>;
beforeAll(async () => {
  ({ folder: cwd, remove } = await makeFolder());
  await writeCsv(join(cwd, "off.csv"), makeFrame(11, 0));
  await writeCsv(join(cwd, "off-again.csv"), makeFrame(12, 0));
  await writeCsv(join(cwd, "on.csv"), makeFrame(13, SPOT.peakK));
  await writeCsv(join(cwd, "small.csv"), makeFrame(14, 0, 40, 30));
  await mkdir(join(cwd, "burst"));
  for (let i = 1; i <= 3; i++) await writeCsv(join(cwd, "burst", `${i}.csv`), makeFrame(20 + i, SPOT.peakK));
  await writeFile(join(cwd, "board.json"), JSON.stringify(makeBoard()));
  await writeFile(join(cwd, "view.json"), JSON.stringify(makeView()));
  await writeCsv(join(cwd, "below-off.csv"), turnOver(makeFrame(15, 0)));
  await writeCsv(join(cwd, "below-on.csv"), turnOver(makeFrame(16, 0.4 * SPOT.peakK)));
  await writeFile(join(cwd, "view-below.json"), JSON.stringify(makeViewBelow()));
  for (const [name, peakK, seed] of [
    ["off.png", 0, 31],
    ["on.png", SPOT.peakK, 32],
  ] as const) {
    const rows = makeFrame(seed, peakK);
    const picture = new PNG({ width: rows[0]!.length, height: rows.length });
    // 20 to 30 °C over 256 levels, grey in all channels.
    const levels = rows.flat().flatMap((value) => [...Array(3).fill(Math.round((value - 20) * 25.5)), 255]);
    picture.data = Buffer.from(levels);
    await writeFile(join(cwd, name), PNG.sync.write(picture, { colorType: 0 }));
  }
});
afterAll(() => remove());

const PAIR = ["--baseline", "off.csv", "--powered", "on.csv"] as const;
const BELOW = [
  ["--other-baseline", "below-off.csv"],
  ["--other-powered", "below-on.csv"],
  ["--other-view", "view-below.json"],
].flat();
const run = (...words: string[]) => runCli(["find", ...words], { cwd });

describe("faultglow find", () => {
  it("finds the spot without a board and prints it for a person", async () => {
    const { status, out, err } = await run(...PAIR);
    expect([status, err]).toEqual([0, ""]);
    expect(out).toMatch(/hotspot 1 .* px/);
    expect(out).not.toContain("\u001b");
  });

  it("prints the findings alone with --json, and they fit the contract", async () => {
    const { status, out, err } = await run(...PAIR, "--json");
    expect([status, err]).toEqual([0, ""]);
    const findings = findingsSchema.parse(JSON.parse(out));
    const [x, y] = findings.hotspots[0]!.sourcePx;
    // The spot's peak is 80 times the noise: half a pixel is far more than its place may be off.
    expect(Math.hypot(x - SPOT.x, y - SPOT.y)).toBeLessThan(0.5);
    expect(findings.suspects).toEqual([]);
    expect(findings.inputs.powered[0]!.sha256).toMatch(/^[0-9a-f]{64}$/);
  });

  it("gives the same bytes for the same files", async () => {
    const [first, second] = await Promise.all([run(...PAIR, "--json"), run(...PAIR, "--json")]);
    expect(first.out).toBe(second.out);
  });

  it("names the part where a board and a view are given, and writes the report", async () => {
    const words = ["--board", "board.json", "--view", "view.json", "--volts", "1", "--amps", "0.3"];
    const { status, out, err } = await run(...PAIR, ...words, "--out", "deep/report", "--json");
    expect(status).toBe(0);
    const findings = findingsSchema.parse(JSON.parse(out));
    expect(findings.suspects[0]).toMatchObject({ ref: "U5", side: "top" });
    expect(err).toBe("Report: deep/report/report.html\n");
    const folder = join(cwd, "deep", "report");
    expect((await readdir(folder)).sort()).toEqual(["findings.json", "overlay.png", "report.html"]);
    expect(await readFile(join(folder, "findings.json"), "utf8")).toBe(out);
    expect(await readFile(join(folder, "report.html"), "utf8")).toContain("U5 (top)");
    expect(PNG.sync.read(await readFile(join(folder, "overlay.png"))).width).toBe(1244);
  });

  it("joins a second view with the first, and shows both", async () => {
    const words = [...PAIR, "--board", "board.json", "--view", "view.json", ...BELOW];
    const { status, out, err } = await run(...words, "--out", "both", "--json");
    expect([status, err]).toEqual([0, "Report: both/report.html\n"]);
    const findings = findingsSchema.parse(JSON.parse(out));
    expect(findings.otherSide).toMatchObject({ primarySide: "top", side: "bottom" });
    expect(findings.otherSide!.inputs).toMatchObject({
      baseline: [{ file: "below-off.csv" }],
      powered: [{ file: "below-on.csv" }],
      view: "view-below.json",
    });
    const [spot] = findings.hotspots;
    expect(spot!.view).toBe("primary");
    // Mirrored; a spot of 1 K is 30 times the noise.
    expect(Math.abs(spot!.otherView!.sourcePx[0] - (63 - SPOT.x))).toBeLessThan(0.5);
    expect(spot!.sideOdds!.top).toBeGreaterThan(spot!.sideOdds!.bottom);
    expect((await readdir(join(cwd, "both"))).sort()).toEqual([
      "findings.json",
      "overlay-other.png",
      "overlay.png",
      "report.html",
    ]);
    const shown = await run(...words);
    expect(shown.out).toMatch(/Heat +Side +Rise/);
  });

  it("ends with 0 where nothing is hot, and says what would have been seen", async () => {
    // With one false alarm in ten thousand frames asked for, this pair of unpowered frames should not be one.
    const pair = ["--baseline", "off.csv", "--powered", "off-again.csv", "--false-alarms", "0.0001"];
    const { status, out } = await run(...pair);
    expect(status).toBe(0);
    expect(out).toContain("N_NOTHING_HOT");
  });

  it("averages several powered frames with a note, and takes them for a burst with --rate", async () => {
    const averaged = await run("--baseline", "off.csv", "--powered", "burst", "--json");
    expect(JSON.parse(averaged.out).notes.map((note: { code: string }) => note.code)).toContain(
      "N_POWERED_AVERAGED",
    );
    // When they were taken is asked for once, in both ways that there are.
    const asked = averaged.out.match(/[^"]*(?:how many seconds|--rate HZ)[^"]*/g);
    expect(asked).toEqual([
      expect.stringMatching(
        /If they follow each other from power-on, give --rate HZ; .*how many seconds by --after/,
      ),
    ]);
    const single = await run("--baseline", "off.csv", "--powered", "on.csv", "--rate", "9");
    expect(single.out).toContain("N_RATE_UNUSED: A rate was given for one powered frame");
    const after = await run("--baseline", "off.csv", "--powered", "burst", "--after", "9", "--json");
    expect(after.out).toContain("All count as taken 9 s after power-on.");
    const burst = await run("--baseline", "off.csv", "--powered", "burst", "--rate", "9", "--json");
    expect(JSON.parse(burst.out).inputs.rateHz).toBe(9);
    expect(JSON.parse(burst.out).notes.map((note: { code: string }) => note.code)).not.toContain(
      "N_POWERED_AVERAGED",
    );
  });

  it("reads grey pictures by --scale and by --gain and --offset to the same temperatures", async () => {
    const files = ["--baseline", "off.png", "--powered", "on.png", "--json"];
    const scaled = await run(...files, "--scale", "20:30");
    const linear = await run(...files, "--gain", String(10 / 255), "--offset", "20");
    const kelvin = await run(...files, "--gain", String(10 / 255), "--offset", "293.15", "--unit", "K");
    expect(JSON.parse(scaled.out).inputs.scale).toEqual({ lowC: 20, highC: 30 });
    const place = (text: string): number[] => JSON.parse(text).hotspots[0].sourcePx;
    for (const other of [linear, kelvin]) {
      // The same temperatures but for the last digits, so the same place but for the last digits of single precision.
      expect(place(other.out)[0]).toBeCloseTo(place(scaled.out)[0]!, 3);
      expect(place(other.out)[1]).toBeCloseTo(place(scaled.out)[1]!, 3);
    }
  });

  it.each(["2", "find"])("follows a supply that goes on and off, with --cycle %s", async (cycle) => {
    await mkdir(join(cwd, "cycled"), { recursive: true });
    for (let n = 0; n < 32; n++) {
      // Four frames a second, a period of 2 s: the spot of the pair, a twentieth as high.
      const peakK = 0.05 * SPOT.peakK * Math.cos((2 * Math.PI * n) / 8 - 1);
      await writeCsv(join(cwd, "cycled", `${n + 10}.csv`), makeFrame(100 + n, peakK));
    }
    const words = ["--baseline", "off.csv", "--powered", "cycled", "--rate", "4", "--cycle", cycle];
    const { status, out, err } = await run(...words, "--json");
    expect([status, err]).toEqual([0, ""]);
    const findings = findingsSchema.parse(JSON.parse(out));
    expect(findings.hotspots).toHaveLength(1);
    const [hotspot] = findings.hotspots;
    expect(Math.hypot(hotspot!.sourcePx[0] - SPOT.x, hotspot!.sourcePx[1] - SPOT.y)).toBeLessThan(1);
    // A line of 32 frames is a quarter of its frequency wide; the spot places it ten times as well.
    expect(Math.abs(findings.cycle!.periodS - 2)).toBeLessThan(0.05);
    expect(findings.notes.map(({ code }) => code)).toContain("N_CYCLE");
    const shown = await run(...words);
    expect(shown.out).toContain("N_CYCLE: Supply switched on and off every ");
  });

  it("prints the verdict alone with --quiet", async () => {
    const { status, out, err } = await run(...PAIR, "--quiet", "--out", "quiet");
    expect([status, err]).toEqual([0, ""]);
    expect(out.trimEnd()).not.toContain("\n");
    expect(await readdir(join(cwd, "quiet"))).toContain("report.html");
  });

  it("prints warnings with --quiet, beside the result", async () => {
    const kelvin = makeFrame(11, 0).map((row) => row.map((value) => value + 273.15));
    await writeCsv(join(cwd, "kelvin.csv"), kelvin);
    const { status, out, err } = await run("--baseline", "kelvin.csv", "--powered", "on.csv", "--quiet");
    expect([status, out.trimEnd()]).toEqual([0, expect.not.stringContaining("Warning")]);
    expect(err).toMatch(/^Warning: kelvin\.csv states no unit/);
  });

  it("minds the number of false alarms", async () => {
    const thresholds = await Promise.all(
      ["0.0001", "1"].map(
        async (n) => JSON.parse((await run(...PAIR, "--false-alarms", n, "--json")).out).threshold,
      ),
    );
    expect(thresholds[0].riseK).toBeGreaterThan(thresholds[1].riseK);
    expect(thresholds[0].falseAlarmsPerFrame).toBe(0.0001);
  });

  it.each<[string, string[], string, RegExp]>([
    [
      "frames of two sizes",
      ["--baseline", "off.csv", "--powered", "small.csv"],
      "E_FRAME_SIZE",
      /64×48.*40×30/,
    ],
    [
      "a picture without a scale",
      ["--baseline", "off.png", "--powered", "on.png"],
      "E_SCALE_NONE",
      /--scale LO:HI/,
    ],
    [
      "a file that is not there",
      ["--baseline", "gone.csv", "--powered", "on.csv"],
      "E_FRAME_READ",
      /gone\.csv/,
    ],
    [
      "a glob that matches nothing",
      ["--baseline", "gone*.csv", "--powered", "on.csv"],
      "E_FRAME_NONE",
      /gone\*\.csv/,
    ],
    ["a board without a view", [...PAIR, "--board", "board.json"], "E_USAGE", /without --view/],
    [
      "a frame given as a board",
      [...PAIR, "--board", "off.csv", "--view", "view.json"],
      "E_JSON_SYNTAX",
      /off\.csv/,
    ],
    [
      "a view given as a board",
      [...PAIR, "--board", "view.json", "--view", "view.json"],
      "E_BOARD_KIND",
      /view\.json/,
    ],
    [
      "a board given as a view",
      [...PAIR, "--board", "board.json", "--view", "board.json"],
      "E_VIEW_KIND",
      /board\.json/,
    ],
    [
      "a second view without a board",
      [...PAIR, ...BELOW],
      "E_USAGE",
      /--other-baseline and --other-powered and --other-view came without --board/,
    ],
    [
      "a second view without its view",
      [...PAIR, "--board", "board.json", "--view", "view.json", ...BELOW.slice(0, 4)],
      "E_USAGE",
      /came without --other-view/,
    ],
    [
      "a second view whose file is not there",
      [
        ...PAIR,
        "--board",
        "board.json",
        "--view",
        "view.json",
        ...BELOW.slice(0, 4),
        "--other-view",
        "gone.json",
      ],
      "E_JSON_READ",
      /gone\.json/,
    ],
    [
      "an option in place of the other frames",
      [
        ...PAIR,
        "--board",
        "board.json",
        "--view",
        "view.json",
        ...BELOW.slice(2),
        "--other-baseline",
        "--quiet",
      ],
      "E_USAGE",
      /--other-baseline/,
    ],
    ["volts alone", [...PAIR, "--volts", "1.0"], "E_USAGE", /--amps/],
    [
      "a cycle that a few frames can't show",
      ["--baseline", "off.csv", "--powered", "burst", "--rate", "4", "--cycle", "2"],
      "E_CYCLE_FRAMES",
      /16 powered frames or more, found 3/,
    ],
    ["a word for a number", [...PAIR, "--rate", "fast"], "E_USAGE", /fast/],
    ["a scale upside down", [...PAIR, "--scale", "40:20"], "E_SCALE_VALUE", /40/],
    ["an output that is a file", [...PAIR, "--out", "off.csv"], "E_OUTPUT", /off\.csv/],
    ["an unknown option", [...PAIR, "--fast"], "E_USAGE", /--fast/],
  ])("refuses %s with status 2, its code, and nothing on stdout", async (_name, words, code, message) => {
    const { status, out, err } = await run(...words, "--json");
    expect([status, out]).toEqual([2, ""]);
    expect(err.startsWith(`${code}: `), err).toBe(true);
    expect(err).toMatch(message);
    expect(err).not.toContain("    at ");
  });

  it("takes a reader that goes away quietly", async () => {
    const { status, signal, err } = await runCli(["find", ...PAIR, "--json"], { cwd, closeOut: true });
    expect([status, signal, err]).toEqual([0, null, ""]);
  });

  it("shows control characters of a file's name instead of passing them on", async () => {
    await writeFile(join(cwd, "bad\u001b[2J.csv"), "not,a\nmatrix,\u001b[31m\n");
    const { status, err } = await run("--baseline", "bad\u001b[2J.csv", "--powered", "on.csv");
    expect(status).toBe(2);
    expect(err).not.toContain("\u001b");
    expect(err).toContain("bad\\x1b[2J.csv");
  });
});
