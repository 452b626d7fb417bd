// evaluate: constants of the method whose worth is a judgement → which are varied, and by what rule.
import type { Rule } from "./vary-value.js";

/** Constants of one file, by the names that the page of constants gives them. */
interface OfFile {
  readonly path: string;
  readonly names: Readonly<Record<string, Rule>>;
}

/** What is varied, in the order of the data: figures that no source, measurement or derivation gives. */
export const JUDGEMENTS: readonly OfFile[] = Object.freeze([
  { path: "src/board/click-covariance.ts", names: { CLICK_SIGMA_PX: "size" } },
  {
    path: "src/clean/find-bad-pixels.ts",
    names: { "BAD_PIXEL_DEFAULTS.spikeSigma": "size", "BAD_PIXEL_DEFAULTS.mostStillShare": "chance" },
  },
  { path: "src/clean/find-lone-pixels.ts", names: { "LONE_PIXEL_DEFAULTS.leastOverRange": "size" } },
  { path: "src/align/edge-samples.ts", names: { GATE_FACTOR: "size", LEAST_GATE: "chance" } },
  {
    path: "src/align/find-movement.ts",
    names: {
      "ALIGN_DEFAULTS.coarseSigmaPx": "size",
      "ALIGN_DEFAULTS.nudgeReachPx": "size",
      "ALIGN_DEFAULTS.quietShare": "chance",
      "ALIGN_DEFAULTS.sureLikeness": "chance",
      "ALIGN_DEFAULTS.priorShiftPx": "size",
      "ALIGN_DEFAULTS.priorAngleRad": "size",
      "ALIGN_DEFAULTS.drawnPlacePx": "size",
      "ALIGN_DEFAULTS.drawnMisfitPx": "size",
      "ALIGN_DEFAULTS.bringBackPx": "size",
      "ALIGN_DEFAULTS.trustedPx": "size",
    },
  },
  { path: "src/align/fit-amounts.ts", names: { CONTRAST_STAYS: "chance" } },
  {
    path: "src/align/line-pattern.ts",
    names: {
      "LINE_PATTERN_DEFAULTS.smoothSigmaPx": "size",
      "LINE_PATTERN_DEFAULTS.edgeFactor": "size",
      "LINE_PATTERN_DEFAULTS.minPairs": "count",
    },
  },
  { path: "src/align/normal-equations.ts", names: { LIKENESS_CLIP: "size", NOISE_MARGIN: "size" } },
  { path: "src/align/place-shape.ts", names: { CONTRAST_SIGMA_PX: "size", DRAWN_SHARE: "chance" } },
  { path: "src/align/refine-alignment.ts", names: { MAX_STEP_PX: "size" } },
  { path: "src/align/separate-pattern.ts", names: { "SEPARATE_PATTERN_DEFAULTS.flatQuantile": "chance" } },
  { path: "src/rise/burst-weights.ts", names: { FIRST_HEAT_SHARE: "chance" } },
  { path: "src/rise/cycle-basis.ts", names: { LEAST_LEFT: "chance" } },
  { path: "src/rise/cycle-phase.ts", names: { POWER_SHARE: "chance", DIRECTION_SIGMA: "size" } },
  { path: "src/rise/demodulate-cycle.ts", names: { "DEMODULATE_DEFAULTS.mostMissingShare": "chance" } },
  {
    path: "src/rise/find-jolts.ts",
    names: {
      "JOLT_DEFAULTS.mostShiftPx": "size",
      "JOLT_DEFAULTS.shiftSigma": "size",
      "JOLT_DEFAULTS.oddShare": "chance",
    },
  },
  {
    path: "src/rise/fit-onset.ts",
    names: {
      "ONSET_DEFAULTS.startShare": "chance",
      "ONSET_DEFAULTS.mostSigmaShare": "chance",
      "ONSET_DEFAULTS.modelShare": "chance",
    },
  },
  { path: "src/rise/frame-levels.ts", names: { "LEVEL_DEFAULTS.clipSigma": "size" } },
  { path: "src/rise/frame-places.ts", names: { STEEP_SHARE: "chance" } },
  { path: "src/rise/remove-drift.ts", names: { "DRIFT_DEFAULTS.clipSigma": "size" } },
  {
    path: "src/rise/resolve-pattern.ts",
    names: { "RESOLVE_PATTERN_DEFAULTS.shiftPx": "size", LEAST_PATTERN_SHARE: "chance" },
  },
  {
    path: "src/rise/smooth-drift.ts",
    names: {
      "SMOOTH_DRIFT_DEFAULTS.blockFill": "chance",
      "SMOOTH_DRIFT_DEFAULTS.termSigmaK": "size",
      "SMOOTH_DRIFT_DEFAULTS.independence": "chance",
    },
  },
  {
    path: "src/hotspots/detect-patches.ts",
    names: {
      "DETECT_DEFAULTS.splitSigma": "size",
      "DETECT_DEFAULTS.splitShare": "chance",
      "DETECT_DEFAULTS.joinShare": "chance",
    },
  },
  { path: "src/sources/alternating-powers.ts", names: { "BODY.likeliest": "chance" } },
  { path: "src/sources/average-powers.ts", names: { STATE_ERROR: "chance" } },
  { path: "src/sources/beside-face.ts", names: { BESIDE_PX: "size", EDGE_SHARE: "chance" } },
  {
    path: "src/sources/cool-faces.ts",
    names: {
      "COOL_FACE_DEFAULTS.warmSigma": "size",
      "COOL_FACE_DEFAULTS.coolShare": "chance",
      "COOL_FACE_DEFAULTS.edgeShare": "chance",
    },
  },
  { path: "src/sources/cooled-faces.ts", names: { LACKING_SHARE: "chance" } },
  { path: "src/sources/around-error.ts", names: { PRIOR_PARTS: "count" } },
  { path: "src/sources/cooled-pixels.ts", names: { COOLED_SIGMA: "size", COOLED_SHARE: "chance" } },
  {
    path: "src/sources/copper-powers.ts",
    names: { TEMPER: "size", REST_SHARE: "chance", SMOOTH_SHARE: "chance" },
  },
  { path: "src/sources/evidence-by-scatter.ts", names: { BLOCK_PX: "count" } },
  { path: "src/sources/evidence-off-face.ts", names: { LEAST_HIDDEN: "chance" } },
  {
    path: "src/sources/face-changes.ts",
    names: { HEAT_ERROR: "chance", MIRROR_HEAT_ERROR: "chance" },
  },
  { path: "src/sources/face-contrast.ts", names: { FACE_SHARE: "chance", RING_SHARES: "chance" } },
  {
    path: "src/sources/fit-defaults.ts",
    names: {
      "FIT_DEFAULTS.shapeErrorPx": "size",
      "FIT_DEFAULTS.heatOddsHidden": "odds",
      "FIT_DEFAULTS.leastHeatOdds": "odds",
      "FIT_DEFAULTS.aloneHeatOdds": "odds",
      "FIT_DEFAULTS.unseenEvidence": "size",
      "FIT_DEFAULTS.shinyEvidence": "size",
      "FIT_DEFAULTS.quietEvidence": "size",
      "FIT_DEFAULTS.cooledSigma": "size",
      "FIT_DEFAULTS.cooledPixels": "count",
      "FIT_DEFAULTS.cooledShare": "chance",
      "FIT_DEFAULTS.spreadError": "chance",
      "FIT_DEFAULTS.leastChance": "chance",
      "FIT_DEFAULTS.leastShareWithoutPeak": "size",
      "FIT_DEFAULTS.leastShareOfWarm": "size",
    },
  },
  {
    path: "src/sources/heat-beside.ts",
    names: { LEAST_LOG_ODDS: "odds" },
  },
  {
    path: "src/sources/heat-or-mirror.ts",
    names: {
      "HEAT_OR_MIRROR_DEFAULTS.oneOfMany": "odds",
      "HEAT_OR_MIRROR_DEFAULTS.warmOdds": "odds",
      "HEAT_OR_MIRROR_DEFAULTS.freeOdds": "odds",
      "HEAT_OR_MIRROR_DEFAULTS.leakShare": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.handK": "size",
      "HEAT_OR_MIRROR_DEFAULTS.handChance": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.hillShare": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.stepErrorK": "size",
      "HEAT_OR_MIRROR_DEFAULTS.stepErrorShare": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.stepWrong": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.modelWrong": "chance",
      "HEAT_OR_MIRROR_DEFAULTS.wrongBy": "size",
      "HEAT_OR_MIRROR_DEFAULTS.aloneWrong": "chance",
      LEAST_SHOWN: "chance",
    },
  },
  {
    path: "src/sources/known-heat-errors.ts",
    names: { "KNOWN_HEAT_DEFAULTS.leastPeak": "size", "KNOWN_HEAT_DEFAULTS.bodyShare": "chance" },
  },
  { path: "src/sources/likeliest-source.ts", names: { NOISE_COST: "odds", UNSEEN: "size" } },
  { path: "src/sources/mirror-shapes.ts", names: { VEIL_SHARE: "chance" } },
  {
    path: "src/sources/mirrored-places.ts",
    names: {
      "MIRRORED_DEFAULTS.againstHeat": "odds",
      "MIRRORED_DEFAULTS.footError": "size",
      "MIRRORED_DEFAULTS.alikeShare": "chance",
      "MIRRORED_DEFAULTS.coverShare": "chance",
      "MIRRORED_DEFAULTS.hillShare": "chance",
      "MIRRORED_DEFAULTS.madeShare": "chance",
    },
  },
  {
    path: "src/sources/mirrored-room.ts",
    names: { "MIRRORED_ROOM_DEFAULTS.levelErrorK": "size", "MIRRORED_ROOM_DEFAULTS.alikeAtOnce": "chance" },
  },
  { path: "src/sources/mirrored-share.ts", names: { SHINY_SHARE: "chance", MIRRORS_WELL: "chance" } },
  { path: "src/sources/nuisance-columns.ts", names: { SCENE_SIGMA_PX: "size" } },
  { path: "src/sources/plate-capacity.ts", names: { "PLATE_CAPACITY.partsJPerM2K": "size" } },
  {
    path: "src/sources/room-change.ts",
    names: {
      "ROOM_CHANGE_DEFAULTS.usualK": "size",
      "ROOM_CHANGE_DEFAULTS.spread": "size",
      "ROOM_CHANGE_DEFAULTS.otherShare": "chance",
      "ROOM_CHANGE_DEFAULTS.otherK": "size",
      CERTAIN_SIGMAS: "size",
    },
  },
  { path: "src/sources/shiny-chance.ts", names: { MIRROR_SPREAD_K: "size", DULL_SPREAD_K: "size" } },
  { path: "src/sources/source-model.ts", names: { "SOURCE_MODEL_DEFAULTS.shinyFree": "chance" } },
  { path: "src/sources/weigh-face.ts", names: { ALONE_SHARE: "chance" } },
  {
    path: "src/sources/weigh-set.ts",
    names: { OUTLINE_PLENTY: "size", INSIDE_SHARE: "chance", LEAST_BY_SCATTER: "size" },
  },
  { path: "src/sources/without-mirrors.ts", names: { LEAST_SHARE: "chance" } },
  { path: "src/findings/hill-offset.ts", names: { STRAY_WINDOWS: "size", MOST_OFFSET_PX: "size" } },
  {
    path: "src/findings/judge-artefacts.ts",
    names: {
      EDGE_SIGMAS: "size",
      LEAST_EDGE_SHIFT_PX: "size",
      HEAT_SHARE: "chance",
      EMISSIVITY_DOUBT: "chance",
    },
  },
  { path: "src/findings/listed-sources.ts", names: { WARMED_SIGMA: "size", RIM_SHARE: "chance" } },
  {
    path: "src/findings/locate-sources.ts",
    names: { DRIFT_SMOOTH_K: "size", MASK_SHARE: "chance", OWN_VEIL_SHARE: "chance", SEEN_SHARE: "chance" },
  },
  { path: "src/findings/place-hotspot.ts", names: { OFFSET_DOUBT: "chance" } },
  { path: "src/suspects/explain-suspect.ts", names: { POSSIBLE_REFLECTION: "chance", CLOSE_ODDS: "size" } },
  { path: "src/suspects/next-measurement.ts", names: { ABOUT_BITS: "size", LEAST_BITS: "size" } },
  { path: "src/suspects/net-readings.ts", names: { READING: "chance" } },
  { path: "src/suspects/next-step.ts", names: { SETTLED: "chance" } },
  {
    path: "src/suspects/verdict.ts",
    names: { LEAST_NAMED: "chance", BOTH_HEAT: "chance", ALONE_NAMED: "chance" },
  },
  {
    path: "src/suspects/weigh-alternatives.ts",
    names: { "WEIGH_DEFAULTS.freePrior": "chance" },
  },
  {
    path: "src/suspects/where-to-look.ts",
    names: {
      FAINT_TIMES: "size",
      "WEIGHTS.none": "chance",
      "WEIGHTS.far": "chance",
      "SHOWS.current": "chance",
      "SHOWS.otherSide": "chance",
      "SHOWS.tape": "chance",
      ABOUT_BITS: "size",
    },
  },
]);
