// Figures that the README promises are those of the code: limits, defaults of readings and evidence, times that are
// waited.
import { describe, expect, it } from "vitest";
import { readText } from "./project.js";
import { constantValue } from "./read-constants.js";

const readme = readText("README.md").replace(/\s+/g, " ");
const MIB = 1024 * 1024;

/** Where the README states a figure, and the constant behind it, in the README's unit. */
const FIGURES: readonly (readonly [says: RegExp, path: string, name: string, unit?: number])[] = [
  [/\| a picture \(PNG, page of a TIFF\) \| ([\d,]+) pixels/, "src/read/read-png-chunks.ts", "MAX_PIXELS"],
  [/a text of frames \| (\d+) MiB a line/, "src/frames/find-lines.ts", "TEXT_LIMITS.lineBytes", MIB],
  [/MiB a line, ([\d,]+) lines/, "src/frames/find-lines.ts", "TEXT_LIMITS.lines"],
  [/a JSON file \| (\d+) MiB/, "src/read/read-json-file.ts", "READ_JSON_DEFAULTS.maxBytes", MIB],
  [/MiB, ([\d,]+) values,/, "src/read/read-json-file.ts", "READ_JSON_DEFAULTS.maxValues"],
  [/values, (\d+) lists or objects/, "src/read/read-json-file.ts", "READ_JSON_DEFAULTS.maxDepth"],
  [/drawing to import \| 32 MiB, ([\d,]+) parts/, "src/import/import-options.ts", "IMPORT_LIMITS.parts"],
  [/parts, (\d+) columns/, "src/import/import-options.ts", "IMPORT_LIMITS.columns"],
  [/columns, ([\d,]+) corners/, "src/import/import-options.ts", "IMPORT_LIMITS.points"],
  [
    /a table of references \| (\d+) MiB/,
    "src/readings/parse-reading-table.ts",
    "TABLE_DEFAULTS.maxBytes",
    MIB,
  ],
  [/GiB, ([\d,]+) files/, "src/store/pack-limits.ts", "PACK_LIMITS.files"],
  [/at most (\d+) times its zipped size/, "src/store/pack-limits.ts", "PACK_LIMITS.times"],
  [/beyond (\d+) MiB at most/, "src/store/pack-limits.ts", "PACK_LIMITS.timesFrom", MIB],
  [/when (\d+) events wait for it/, "src/serve/event-routes.ts", "MOST_WAITING"],
  [/another waits for up to (\d+) s/, "src/store/store-options.ts", "STORE_DEFAULTS.waitS"],
  [/no more than ([\d.]+) V or 2 Ω/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.shortV"],
  [/no more than 0\.03 V or (\d+) Ω/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.shortOhm"],
  [/or no more than (\d+) Ω, and/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.farShortOhm"],
  [
    /less than (\d+) % of what is/,
    "src/readings/classify-reading.ts",
    "CLASSIFY_DEFAULTS.farShortShare",
    0.01,
  ],
  [
    /moved by more than (\d+) % and/,
    "src/readings/classify-readings.ts",
    "SERIES_DEFAULTS.settleShare",
    0.01,
  ],
  [/% and ([\d.]+) V \(0\.3 Ω\)/, "src/readings/classify-readings.ts", "SERIES_DEFAULTS.settleV"],
  [/else (\d+) % or 0\.015 V/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.diodeShare", 0.01],
  [/else 10 % or ([\d.]+) V in diode/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.diodeV"],
  [/, (\d+) % or 0\.5 Ω/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.resistanceShare", 0.01],
  [/25 % or ([\d.]+) Ω/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.resistanceOhm"],
  [/, (\d+) % or 0\.02 V/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.voltageShare", 0.01],
  [/numbers from ([\d.]+) V or 10 MΩ/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.overV"],
  [/V or (\d+) MΩ up/, "src/readings/classify-reading.ts", "CLASSIFY_DEFAULTS.overOhm", 1e6],
  [
    /taken to cure in (\d+) % of cases/,
    "src/evidence/evidence-defaults.ts",
    "EVIDENCE_DEFAULTS.replacedCures",
    0.01,
  ],
  [/\(lifting (\d+) %/, "src/evidence/evidence-defaults.ts", "EVIDENCE_DEFAULTS.liftedCures", 0.01],
  [/reflow (\d+) %/, "src/evidence/evidence-defaults.ts", "EVIDENCE_DEFAULTS.reflowedCures", 0.01],
  [/cleaning (\d+) %/, "src/evidence/evidence-defaults.ts", "EVIDENCE_DEFAULTS.cleanedCures", 0.01],
  [/are larger than (\d+) MB \(320/, "src/read/frame-spool.ts", "SPOOL_DEFAULTS.heldBytes", MIB],
  [/256×192 and at most (\d+) GB/, "src/rise/find-cycle.ts", "FIND_CYCLE_DEFAULTS.mostBytes", 1e9],
];

describe("figures of the README", () => {
  it.each(FIGURES.map(([says, path, name, unit = 1]) => ({ says, path, name, unit })))(
    "$says is that of $path, $name",
    ({ says, path, name, unit }) => {
      const stated = says.exec(readme)?.[1]?.replaceAll(",", "");
      // A figure in another unit is a product of doubles: a billionth is far above their rounding.
      expect(Number(stated) * unit).toBeCloseTo(constantValue(path, name), 9);
    },
  );

  it("on nets follow from how often they read so with a fault on them and without one", () => {
    const path = "src/readings/net-likelihood.ts";
    const ratio = (outcome: string): number =>
      constantValue(path, `NET_DEFAULTS.${outcome}On`) / constantValue(path, `NET_DEFAULTS.${outcome}Off`);
    const [, short, low] = /makes the parts on it (\d+) times, one that reads low (\d+) times/.exec(readme)!;
    expect([ratio("short"), ratio("low")].map(Math.round)).toEqual([Number(short), Number(low)]);
    const [, ordinary] = /no other net (\d+) times less likely/.exec(readme)!;
    expect(1 / ratio("ordinary")).toBeCloseTo(Number(ordinary), 9);
  });
});
