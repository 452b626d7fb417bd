import { mkdirSync, writeFileSync } from "node:fs";
import * as R from "../../../src/report/render-overlay.js";
import { renderOverlay } from "../../../src/report/render-overlay.js";
import { makeAnalysis } from "./make-analysis.js";

mkdirSync("/tmp/look", { recursive: true });
const many = Array.from({ length: 14 }, (_, i) => ({
  x: 8 + ((i * 37) % 80),
  y: 10 + ((i * 23) % 45),
  peakK: 3 - i * 0.18,
  ref: i === 2 ? "U1234-CHARGE-CONTROLLER-<b>&long\u202e" : i === 5 ? "充電IC" : `U${i + 1}`,
  probability: i === 0 ? 0.55 : 0.03,
  normallyWarm: i === 3,
}));
const cases = {
  plain: makeAnalysis({ withEnergy: true, withArtefacts: true }),
  none: makeAnalysis({ spots: [] }),
  noboard: makeAnalysis({ withBoard: false }),
  many: makeAnalysis({
    spots: many,
    withArtefacts: true,
    file: "a-very-long-folder-name/".repeat(6) + "baseline.csv",
  }),
  tall: makeAnalysis({ width: 60, height: 160, withBoard: false }),
};
for (const [name, analysis] of Object.entries(cases)) {
  const png = await renderOverlay(analysis);
  writeFileSync(`/tmp/look/${name}.png`, png);
  const { renderReport } = await import("../../../src/report/render-report.js");
  writeFileSync(`/tmp/look/${name}.html`, renderReport(analysis, png));
}
