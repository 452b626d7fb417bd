import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, it } from "vitest";
import { type Figure, reached, shareFigure } from "../../evaluate/figure.js";
import { CYCLE_NOISE } from "../../evaluate/figures/cycle-noise.js";
import { PLACE } from "../../evaluate/figures/place.js";
import { isSplit, SEPARATION } from "../../evaluate/figures/separation.js";
import type { TrialValues } from "../../evaluate/figures/special.js";
import { TIMED } from "../../evaluate/figures/timed.js";
import { printFigures } from "../../evaluate/print-figures.js";
import { addToRecord, openRecord, stillToDo } from "../../evaluate/record.js";
import { type Item, runItem } from "../../evaluate/run-items.js";
import { shareOf } from "../../evaluate/statistics.js";
import type { Analyse } from "../../evaluate/tool-chain.js";
import { sceneFigures } from "../../evaluate/yardstick.js";
import { makeScene } from "../../simulate/make-scene.js";

/** A tool that finds nothing. */
const BLIND: Analyse = (input) => {
  const { width, height } = input.baseline[0]!.raster;
  return {
    findings: {
      alignment: { dxPx: 0, dyPx: 0, rotationDeg: 0 },
      hotspots: [],
      suspects: [],
      unexplained: null,
    },
    rise: { unit: "K", width, height, data: new Float32Array(width * height) },
  };
};

describe("a figure", () => {
  const base = shareFigure("right", shareOf([true, true, true, false]), { atLeast: 0.7 }, { atLeast: 0.8 });

  it("reaches its aim, its bar, or misses it", () => {
    expect(reached(base)).toBe("bar");
    expect(reached({ ...base, value: 0.8 })).toBe("aim");
    expect(reached({ ...base, value: 0.69 })).toBe("miss");
    const between: Figure = { ...base, bar: { between: [0.8, 1.25] }, aim: { between: [0.9, 1.1] } };
    expect([0.79, 0.85, 1.05, 1.2, 1.26].map((value) => reached({ ...between, value }))).toEqual([
      "miss",
      "bar",
      "aim",
      "bar",
      "miss",
    ]);
    const low: Figure = { ...base, bar: { atMost: 4 }, aim: { atMost: 2 } };
    expect([2, 3, Number.POSITIVE_INFINITY, Number.NaN].map((value) => reached({ ...low, value }))).toEqual([
      "aim",
      "bar",
      "miss",
      "miss",
    ]);
    expect(reached({ ...base, value: null })).toBeNull();
    expect(reached({ ...base, bar: null })).toBeNull();
  });

  it("is printed beside its bar and its aim, with its interval and a mark where it misses", () => {
    const wrong: Figure = { ...base, name: "wrong", value: 0.5, high: 0.65 };
    const text = printFigures([base, wrong, { ...wrong, name: "unsure", high: 0.75 }]);
    const [, , first, second, third] = text.split("\n");
    expect(first).toMatch(/^right\s+0\.750 \[0\.301 0\.954\]\s+4\s+≥ 0\.7\s+≥ 0\.8\s+bar$/);
    expect(second).toMatch(/✗ MISSES$/);
    expect(third).toMatch(/✗ misses\?$/);
  });
});

describe("a tool that finds nothing", () => {
  it("misses every bar of powered scenes and keeps that of unpowered ones", async () => {
    const item = (kind: "still" | "unpowered"): Item => ({
      type: "scene",
      kind,
      seed: 7201,
      variants: [{ name: "whole", options: {} }],
      plain: false,
    });
    const load = async (): Promise<Analyse> => BLIND;
    const outcomes = [await runItem(item("still"), load), await runItem(item("unpowered"), load)];
    const figures = sceneFigures(outcomes.flatMap((one) => one.scores));
    const markOf = (name: string): string | null => reached(figures.find((one) => one.name.includes(name))!);
    expect(markOf("right part first")).toBe("miss");
    expect(markOf("unpowered, no hotspot")).toBe("aim");
    expect(markOf("calibration error, all suspects")).toBe("miss");
    expect(figures.some((one) => one.name.includes("faint"))).toBe(false);
  });

  it("places no spot, splits none and tells none apart", async () => {
    const place = PLACE.summarise([await PLACE.run(BLIND, 3, 7202)]);
    expect(place[0]?.value).toBeNull();
    expect(place[0]?.remark).toContain("not found 1 of 1");
    const trials = await Promise.all([0, 1, 2].map((index) => SEPARATION.run(BLIND, index, 7203)));
    expect(trials.map((one) => one.apartPx)).toEqual([0, 1, 2]);
    expect(trials.every((one) => one.board === false && one.plain === false)).toBe(true);
    expect(reached(SEPARATION.summarise(trials)[0]!)).toBe("miss");
  });
});

describe("the place of a spot", () => {
  it("comes out at the bound for errors that are at the bound, and shows what is stated", () => {
    // Errors of ±1 in units of the bound, half as large as stated.
    const trials = [5, 7, 10, 50].map((snr, i): TrialValues => {
      const off = i % 2 === 0 ? 1 : -1;
      return { snr, evenX: off, evenY: -off, evenZX: 0.5 * off, evenZY: 0.5, edgesX: null };
    });
    const [first, second] = PLACE.summarise(trials);
    expect(first?.value).toBeCloseTo(1, 12);
    expect(first?.of).toBe(8);
    // A scatter of 0.5 by the median of |z|: 0.6745/0.5 = 1.349.
    expect(second?.value).toBeCloseTo(1.349, 3);
  });
});

describe("two parts told apart", () => {
  it("when each place is nearer to its own part than half the distance, in either order", () => {
    const truth: [number, number][] = [
      [10, 20],
      [14, 20],
    ];
    const near: [number, number] = [11, 20.5];
    const other: [number, number] = [13.2, 19];
    expect(isSplit([near, other], truth, 4)).toBe(true);
    expect(isSplit([other, near], truth, 4)).toBe(true);
    expect(isSplit([near, [12.1, 22]], truth, 4)).toBe(false);
    expect(isSplit([near], truth, 4)).toBe(false);
    // One part: a second place close by is a false split, one far away is none.
    expect(isSplit([near, other], [[10, 20]], 0)).toBe(true);
    expect(isSplit([near, [40, 20]], [[10, 20]], 0)).toBe(false);
  });

  it("counts from the farthest distance down to the first that is not reliable, and only without false splits", () => {
    const trials = (falseSplits: number): TrialValues[] => [
      ...Array.from(
        { length: 100 },
        (_, i): TrialValues => ({ apartPx: 0, board: i < falseSplits, plain: false }),
      ),
      ...[1, 2, 3, 4, 5, 6, 7, 8].flatMap((apartPx) =>
        // 2 px works by luck; 3 px does not: the answer is 4.
        Array.from(
          { length: 10 },
          (_, i): TrialValues => ({ apartPx, board: apartPx !== 3 && i > 0, plain: false }),
        ),
      ),
    ];
    expect(SEPARATION.summarise(trials(1))[0]?.value).toBe(4);
    expect(SEPARATION.summarise(trials(2))[0]?.value).toBe(Number.POSITIVE_INFINITY);
  });
});

describe("the noise of an amplitude", () => {
  it("is the root mean square of its runs", () => {
    const [figure] = CYCLE_NOISE.summarise([
      { ratio: 0.9, pixels: 800, hotspots: 0 },
      { ratio: 1.3, pixels: 800, hotspots: 2 },
    ]);
    expect(figure?.value).toBeCloseTo(Math.sqrt((0.81 + 1.69) / 2), 12);
    expect(reached(figure!)).toBe("bar");
  });
});

describe("a record", () => {
  const folder = mkdtempSync(join(tmpdir(), "faultglow-record-"));
  afterAll(() => rmSync(folder, { recursive: true }));
  const items: Item[] = [
    { type: "scene", kind: "still", seed: 7301, variants: [{ name: "whole", options: {} }], plain: true },
    { type: "trial", figure: "place", index: 4, seed: 7301 },
  ];

  it("lets a run that was cut off go on where it was", async () => {
    const file = join(folder, "run.json");
    expect(stillToDo(items, openRecord(file, false))).toEqual(items);
    const outcome = await runItem({ ...items[0], variants: [] } as Item);
    addToRecord(file, outcome);
    const whole = readFileSync(file, "utf8");
    // Cut off in the middle of the next line.
    writeFileSync(file, `${whole}{"score":{"kind":"still","se`);
    const record = openRecord(file, false);
    expect(record.scores).toEqual(JSON.parse(JSON.stringify(outcome.scores)));
    expect(stillToDo(items, record)).toEqual([{ ...items[0], plain: false }, items[1]]);
    addToRecord(file, {
      scores: [],
      trials: [{ figure: "place", index: 4, seed: 7301, values: {}, error: null }],
    });
    expect(stillToDo(items, openRecord(file, false))).toEqual([{ ...items[0], plain: false }]);
  });

  it("refuses files of others and results of other sources", () => {
    const strange = join(folder, "strange.json");
    writeFileSync(strange, '{"kind":"something"}\n');
    expect(() => openRecord(strange, false)).toThrow(/no record of an evaluation/);
    const old = join(folder, "old.json");
    writeFileSync(old, '{"kind":"faultglow/evaluation","version":1,"sources":"0123"}\n');
    expect(() => openRecord(old, false)).toThrow(/other sources/);
    expect(openRecord(old, true).scores).toEqual([]);
  });
});

describe("the figure of pairs whose time is told", () => {
  it("asks twice of each scene, once with the time since power-on to about a tenth", async () => {
    const told: (number | undefined)[] = [];
    const heard: Analyse = (input) => {
      told.push(input.afterS);
      return BLIND(input);
    };
    await TIMED.run(heard, 5, 30_000);
    expect(told).toHaveLength(2);
    expect(told[0]).toBeUndefined();
    const timeS = makeScene("still", 30_001).truth.timesS.at(-1)!;
    expect(told[1]).not.toBe(timeS);
    expect(Math.abs(Math.log(told[1]! / timeS))).toBeLessThan(0.4);
  }, 60_000);

  it("tells the error by what the map tells of the plate, beside that without the time", () => {
    const trial = (plate: string, toldError: number, without: number): TrialValues => ({
      ...{ plate, told: toldError, without, inside: toldError < 0.2, right: true, rightWithout: false },
      heating: "rising",
    });
    const [right, no, cover, first] = TIMED.summarise([
      ...[0.05, 0.06, 0.3].map((error) => trial("right", error, 2 * error)),
      ...[0.1, 0.12, 0.5].map((error) => trial("no", error, 0.4)),
      trial("off", 0.01, 0.01),
    ]);
    expect(right).toMatchObject({ value: 6, of: 3, remark: "without the time 12.0 %" });
    expect(no).toMatchObject({ value: 12, of: 3, remark: "without the time 40.0 %" });
    expect(cover!.value).toBeCloseTo(5 / 7, 10);
    expect(first).toMatchObject({ value: 1, remark: "without the time 0.000" });
  });
});
