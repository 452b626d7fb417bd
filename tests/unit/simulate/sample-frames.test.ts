import { readdirSync, readFileSync, statSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { PNG } from "pngjs";
import { describe, expect, it } from "vitest";
import { sampleAttempts } from "../../../sample-frames/attempts.js";
import { sampleBoard } from "../../../sample-frames/board-parts.js";
import { boardMapSchema, viewSchema } from "../../../src/board/board-schema.js";

const FOLDER = fileURLToPath(new URL("../../../sample-frames/", import.meta.url));
const text = (name: string): string => readFileSync(`${FOLDER}${name}`, "utf8");
const json = (name: string): Record<string, unknown> => JSON.parse(text(name)) as Record<string, unknown>;

describe("sample frames", () => {
  const board = sampleBoard();
  const attempts = sampleAttempts(board);

  it("are marked as invented, fit the schemas and stay small", () => {
    const map = boardMapSchema.parse(json("board.json"));
    expect(map.regions.filter((region) => region.side === "top").length).toBe(27);
    expect(map.regions.filter((region) => region.side === "bottom").length).toBe(8);
    for (const { name } of attempts) {
      expect(json(`${name}/truth.json`).invented).toBe(true);
      expect(json(`${name}/attempt.json`).invented).toBe(true);
      viewSchema.parse(json(`${name}/view-top.json`));
    }
    const files = readdirSync(FOLDER, { recursive: true, withFileTypes: true }).filter((entry) =>
      entry.isFile(),
    );
    const bytes = files.reduce((sum, entry) => sum + statSync(`${entry.parentPath}/${entry.name}`).size, 0);
    expect(bytes).toBeLessThan(3e6);
  });

  // Sines and exponentials may differ in the last digit from one Node to the next; a rounded value may then fall
  // on the other side: one step of the last decimal, or one of the 16-bit levels.
  it("are what the generator makes today", () => {
    for (const { name, scene } of attempts) {
      for (const [role, frames] of [
        ["baseline", scene.baseline],
        ["powered", scene.powered],
      ] as const) {
        for (const [i, frame] of frames.entries()) {
          const stem = `${name}/${role}/frame-${i + 1}`;
          const [values, stepK] =
            scene.rateHz === null ? [csv(`${stem}.csv`), 0.01] : [png(`${stem}.png`), 100 / 65535];
          expect(values.length).toBe(frame.data.length);
          let worst = 0;
          for (let k = 0; k < values.length; k++)
            worst = Math.max(worst, Math.abs(values[k]! - frame.data[k]!));
          expect(worst).toBeLessThan(1.01 * stepK);
        }
      }
    }
  });

  it("say in truth.json what was simulated", () => {
    const faults = attempts.map(({ name }) => {
      const { sources } = json(`${name}/truth.json`) as { sources: { ref: string; fault: boolean }[] };
      return sources.filter((source) => source.fault).map((source) => source.ref);
    });
    expect(faults).toEqual([["C6"], ["C6"], ["U6"]]);
    const third = attempts[2]!.scene.truth;
    expect(third.sources.filter((source) => !source.fault).map((source) => source.ref)).toEqual(["U1", "U2"]);
    expect(third.reflectionChangeK).toBeGreaterThan(1);
    expect(board.parts.find((part) => part.ref === "U1")?.normallyWarm).toBe(true);
  });
});

function csv(name: string): number[] {
  return text(name)
    .trim()
    .split("\n")
    .flatMap((line) => line.split(",").map(Number));
}

/** 16-bit grey through pngjs; four channels come back. */
function png(name: string): number[] {
  const scale = json(`${name}.json`) as unknown as { lowC: number; highC: number };
  const { data } = PNG.sync.read(readFileSync(`${FOLDER}${name}`), { skipRescale: true });
  const levels = data as unknown as Uint16Array;
  return Array.from(
    { length: levels.length / 4 },
    (_, k) => scale.lowC + (levels[4 * k]! / 65535) * (scale.highC - scale.lowC),
  );
}
