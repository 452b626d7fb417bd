import { readFile } from "node:fs/promises";
import { describe, expect, it } from "vitest";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { parseView } from "../../../src/board/parse-view.js";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { readFrames } from "../../../src/read/read-frames.js";

interface Truth {
  readonly sources: readonly { readonly ref: string; readonly fault: boolean }[];
}

async function readJson<T>(file: string): Promise<T> {
  return JSON.parse(await readFile(file, "utf8")) as T;
}

/** Run one sample attempt; `forget` takes the mark of a part that is warm anyway off the map, `keep` says which parts
 *  it has. */
async function run(attempt: string, forget: readonly string[], keep = (_ref: string) => true) {
  const folder = `sample-frames/${attempt}`;
  const { rateHz } = await readJson<{ rateHz?: number | null }>(`${folder}/attempt.json`);
  const { board } = parseBoardMap(await readJson("sample-frames/board.json"), "board.json");
  const { view } = parseView(await readJson(`${folder}/view-top.json`), "view-top.json");
  const regions = board.regions
    .filter(({ ref }) => keep(ref))
    .map((region) => (forget.includes(region.ref) ? { ...region, normallyWarm: false } : region));
  const findings = findHotspots({
    baseline: (await readFrames([`${folder}/baseline`], {})).frames,
    powered: (await readFrames([`${folder}/powered`], {})).frames,
    board: { ...board, regions },
    view,
    rateHz: rateHz ?? null,
  });
  return { findings, truth: await readJson<Truth>(`${folder}/truth.json`) };
}

describe("the sample attempts", () => {
  it.each(["attempt-1", "attempt-2"])("%s: the one part that heats, and no other", async (attempt) => {
    for (const forget of [[], ["U2"]]) {
      const { findings, truth } = await run(attempt, forget);
      expect(truth.sources.map((source) => source.ref)).toEqual(["C6"]);
      expect(findings.hotspots.map((hotspot) => hotspot.nearest[0]?.ref)).toEqual(["C6"]);
      expect(findings.suspects[0]).toMatchObject({ ref: "C6", normallyWarm: false });
    }
  });

  it.each([
    ["the part that heats", (ref: string) => ref !== "C6"],
    ["all but three large parts", (ref: string) => ["U1", "SH1", "J1"].includes(ref)],
  ])(
    "attempt-1 with a map that lacks %s: its place is found, and no other part is named",
    async (_, keep) => {
      const { findings } = await run("attempt-1", [], keep);
      expect(findings.suspects).toEqual([]);
      expect(findings.unexplained).toBeGreaterThan(0.95);
      const board = await readJson<{ regions: { ref: string; polygon: [number, number][] }[] }>(
        "sample-frames/board.json",
      );
      const c6 = board.regions.find(({ ref }) => ref === "C6")!.polygon;
      const [x, y] = findings.hotspots[0]!.sourceMm!;
      expect(x).toBeGreaterThan(Math.min(...c6.map(([a]) => a)) - 0.3);
      expect(x).toBeLessThan(Math.max(...c6.map(([a]) => a)) + 0.3);
      expect(y).toBeGreaterThan(Math.min(...c6.map(([, b]) => b)) - 0.3);
      expect(y).toBeLessThan(Math.max(...c6.map(([, b]) => b)) + 0.3);
      expect(findings.nextStep).toMatch(/add it to the board map/);
    },
  );

  it("attempt-3: the fault comes first, before the parts that are warm anyway", async () => {
    const { findings, truth } = await run("attempt-3", []);
    const fault = truth.sources.find((source) => source.fault)!;
    expect(findings.suspects[0]?.ref).toBe(fault.ref);
    const warm = truth.sources.filter((source) => !source.fault).map((source) => source.ref);
    const listed = findings.suspects.filter((s) => warm.includes(s.ref));
    expect(listed.length).toBeGreaterThan(0);
    for (const suspect of listed) {
      expect(suspect).toMatchObject({ normallyWarm: true, probability: 0 });
    }
  });
});
