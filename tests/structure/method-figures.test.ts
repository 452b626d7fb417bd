// Figures that the page of method states are those of the code.
import { describe, expect, it } from "vitest";
import { normalQuantile } from "../../src/numeric/normal-distribution.js";
import { PLATE_STATES } from "../../src/sources/plate-state.js";
import { readText } from "./project.js";
import { constantValue } from "./read-constants.js";

const method = readText("src/guide/method.md").replace(/\s+/g, " ");

const FIT = "src/sources/fit-defaults.ts";
const FACES = "src/sources/heat-or-mirror.ts";
const MODEL = "src/sources/source-model.ts";
const CAPACITY = "src/sources/plate-capacity.ts";
const STATES = "src/sources/plate-state.ts";
const PLACE = "src/findings/place-hotspot.ts";
const ROOM = "src/sources/mirrored-room.ts";
const EMISSIVITY = "src/board/emissivity.ts";

/** Where the page states a figure, and the constant behind it, in the page's unit. */
const FIGURES: readonly (readonly [says: RegExp, path: string, name: string, unit?: number])[] = [
  [/the uncertainty is above ([\d.]+) px/, "src/align/find-movement.ts", "ALIGN_DEFAULTS.trustedPx"],
  [
    /for a frame, α \(([\d.]+) unless/,
    "src/findings/analyse-options.ts",
    "ANALYSE_DEFAULTS.falseAlarmsPerFrame",
  ],
  [/sizes\), k = (\d+): differences/, "src/findings/analyse-options.ts", "ANALYSE_DEFAULTS.tailFactor"],
  [/Below ([\d.]+) the formula no longer/, "src/rise/level-allowing.ts", "LOWEST_SIGMA"],
  [/where the rise is (\d+) times as probable/, "src/sources/doubt-time.ts", "LEAST_FACTOR"],
  [/or ([\d.]+) of the χ² that the sources take off/, "src/sources/average-powers.ts", "STATE_ERROR"],
  [/some (\d+) % of what each shows/, "src/sources/mirror-shapes.ts", "VEIL_SHARE", 0.01],
  [/shows, spread by (\d+) px/, "src/sources/mirror-shapes.ts", "HALO_SIGMA_PX"],
  [/and (\d+) % for each alone/, "src/findings/locate-sources.ts", "OWN_VEIL_SHARE", 0.01],
  [/within ([\d.]+) px of it stands out/, "src/findings/match-patches.ts", "REACH_PX"],
  [/as if (\d+) more parts showed noise/, "src/sources/around-error.ts", "PRIOR_PARTS"],
  [/with ln K scattering by ([\d.]+) about/, STATES, "CONDUCTANCE_SPREAD"],
  [/about ([\d.]+) W\/K and ln t/, MODEL, "SOURCE_MODEL_DEFAULTS.conductanceWPerK"],
  [/ln t by ([\d.]+) about/, STATES, "RISING_PLATES.timeSpread"],
  [/about (\d+) s, K ∝/, STATES, "RISING_PLATES.timeS"],
  [/with a chance of (\d+) % the error has Laplace/, FACES, "HEAT_OR_MIRROR_DEFAULTS.stepWrong", 0.01],
  [/is listed from a chance of (\d+) % on/, FIT, "FIT_DEFAULTS.leastChance", 0.01],
  [/\(([\d.]+) px · slope of the heat/, FIT, "FIT_DEFAULTS.shapeErrorPx"],
  [/The least evidence is (\d+) \(5 σ\)/, FIT, "LEAST_EVIDENCE"],
  [/2 ln 25 of 25 is not wanted \| ([\d.]+) \|/, FIT, "FIT_DEFAULTS.neighbourEvidence"],
  [/on the far side, or mirroring \| ([\d.]+) \|/, FIT, "FIT_DEFAULTS.hiddenEvidence"],
  [/unless power surely went in \| (\d+) \|/, FIT, "FIT_DEFAULTS.mirroredEvidence"],
  [/or mirroring in view \| (\d+) \|/, FIT, "FIT_DEFAULTS.quietEvidence"],
  [/or mirroring in view \| (\d+) \|/, FIT, "FIT_DEFAULTS.shinyEvidence"],
  [/\| … on the far side \| (\d+) \|/, FIT, "FIT_DEFAULTS.unseenEvidence"],
  [/and where it does ([\d.]+) \(/, FIT, "FIT_DEFAULTS.leastShareOfFace"],
  [/\(([\d.]+) beside heat that is mostly/, FIT, "FIT_DEFAULTS.leastShareBesideWarm"],
  [/P\(heat\) ÷ \(1 \+ \(([\d.]+) ÷ s\)²\)/, FIT, "FIT_DEFAULTS.spreadError"],
  [/with log odds of (\d+) \(0\.88\)/, FIT, "FIT_DEFAULTS.heatOddsHidden"],
  [/T = ([\d.]+), the temper/, "src/suspects/weigh-alternatives.ts", "WEIGH_DEFAULTS.temper"],
  [/region names is (\d+) %, shared/, "src/suspects/weigh-alternatives.ts", "WEIGH_DEFAULTS.freePrior", 0.01],
  [
    /discovery rate of (\d+) % \(Benjamini/,
    "src/compare/compare-options.ts",
    "COMPARE_DEFAULTS.falseDiscoveryRate",
    0.01,
  ],
  [
    /good boards with one of (\d+) %/,
    "src/compare/exceed-profile.ts",
    "EXCESS_DEFAULTS.falseDiscoveryRate",
    0.01,
  ],
  [/alignment's, ([\d.]+) of the spot's width/, PLACE, "SHAPE_SHARE"],
  [/\(([\d.]+) with the early frames of a burst\)/, PLACE, "EARLY_SHAPE_SHARE"],
  [/beside them ([\d.]+) of what they show/, "src/findings/locate-sources.ts", "MIRROR_DOUBT"],
  [/with evidence of (\d+) and more and log odds/, "src/sources/heat-beside.ts", "LEAST_EVIDENCE"],
  [/its chance is ([\d.]+) ÷ \(1/, "src/sources/heat-beside.ts", "USUAL_CHANCE"],
  [/less than (\d+) times the least evidence must/, "src/sources/weigh-set.ts", "OUTLINE_PLENTY"],
  [/asin\(([\d.]+)·r·m²/, ROOM, "MIRRORED_ROOM_DEFAULTS.alikeAtOnce"],
  [/a mirror may show ([\d.]+) K of nothing/, ROOM, "MIRRORED_ROOM_DEFAULTS.levelErrorK"],
  [/robust to blocks of (\d+) px/, "src/sources/evidence-by-scatter.ts", "BLOCK_PX"],
  [/read off blocks of (\d+) px/, "src/sources/residual-scale.ts", "BLOCK_PX"],
  [/of standard deviation ([\d.]+) and an exponential/, "src/sources/copper-fields.ts", "COPPER.spread"],
  [/exponential correlation over (\d+) mm/, "src/sources/copper-fields.ts", "COPPER.reachMm"],
  [/tape \| ([\d.]+), 0\.93/, EMISSIVITY, "FINISH_EMISSIVITY.solder-mask.emissivity"],
  [/tape \| 0\.91, ([\d.]+),/, EMISSIVITY, "FINISH_EMISSIVITY.moulded.emissivity"],
  [/0\.93, ([\d.]+), 0\.10,/, EMISSIVITY, "FINISH_EMISSIVITY.ceramic.emissivity"],
  [/0\.92, ([\d.]+), 0\.96 \|/, EMISSIVITY, "FINISH_EMISSIVITY.bare-metal.emissivity"],
  [/0\.10, ([\d.]+) \|/, EMISSIVITY, "FINISH_EMISSIVITY.coated.emissivity"],
  [/loss of both faces together \| (\d+) W/, MODEL, "SOURCE_MODEL_DEFAULTS.lossWPerM2K"],
  [/if not told \| ([\d.]+) W\/K/, MODEL, "SOURCE_MODEL_DEFAULTS.conductanceWPerK"],
  [/parts on it \| ([\d.]+)·10⁶ J/, CAPACITY, "PLATE_CAPACITY.heatCapacityJPerM3K", 1e6],
  [/J\/m³K, (\d+) J\/m²K/, CAPACITY, "PLATE_CAPACITY.partsJPerM2K"],
  [/above the board \| (\d+)\/√area/, FACES, "HEAT_OR_MIRROR_DEFAULTS.bodyKMmPerW"],
];

describe("figures of the page of method", () => {
  it.each(FIGURES.map(([says, path, name, unit = 1]) => ({ says, path, name, unit })))(
    "$says is that of $path, $name",
    ({ says, path, name, unit }) => {
      const value = constantValue(path, name);
      // A figure in another unit is a product of doubles: a billionth is far above their rounding.
      expect(Math.abs(Number(says.exec(method)?.[1]) * unit - value)).toBeLessThan(1e-9 * value);
    },
  );

  it("counts the plate's states", () => {
    const count = (kind: "steady" | "rising"): number =>
      PLATE_STATES.filter((one) => one.kind === kind).length;
    expect(method).toContain("Twelve states (seven lengths of spreading, five cooling lengths)");
    expect([count("rising"), count("steady")]).toEqual([7, 5]);
  });

  it("gives the chance below which all that was found is taken for mirrors", () => {
    const odds = constantValue(FIT, "FIT_DEFAULTS.aloneHeatOdds");
    const [, percent] = /where nothing found is heat with (\d+) %/.exec(method)!;
    expect(Math.round(100 / (1 + Math.exp(-odds)))).toBe(Number(percent));
  });

  it("gives the watts' asymmetric interval the quantile of a normal deviate", () => {
    const [, quantile, percent] = /such that ([\d.]+) of it to either side hold (\d+) %/.exec(method)!;
    // Three digits after the point are stated.
    expect(Number(quantile)).toBeCloseTo(normalQuantile(0.5 + Number(percent) / 200), 3);
  });
});
