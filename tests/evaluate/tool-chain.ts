// evaluate: a scene → what faultglow answers, through the same function as the command and the page.
import type { BoardMap, View } from "../../src/board/board-schema.js";
import type { Raster } from "../../src/core/raster.js";
import { applyTo } from "../simulate/camera.js";
import type { Point } from "../simulate/polygons.js";
import type { Nudge, Scene, SimFrame } from "../simulate/scene.js";
import type { Answer } from "./answer.js";

/** What of the tool's interface is measured here; written down anew, so that a change of it is noticed. */
export interface MeasuredFindings {
  readonly alignment: Nudge;
  readonly hotspots: readonly {
    readonly rank: number;
    /** Where two views were given: the one that `sourcePx` is a place in. */
    readonly view?: "primary" | "other";
    readonly sourceMm: readonly [number, number] | null;
    readonly sourcePx: readonly [number, number];
    readonly sourceSigmaPx: number;
    readonly powerSigmaW: number | null;
    readonly onsetS: number | null;
    readonly onsetSigmaS?: number | null;
  }[];
  readonly unexplained: number | null;
  readonly suspects: readonly {
    readonly ref: string;
    readonly side: "top" | "bottom";
    readonly probability: number;
    readonly powerW: number | null;
    readonly normallyWarm: boolean;
    readonly hotspot: number | null;
  }[];
}

export interface MeasuredFrame {
  readonly raster: Raster<"degC">;
  readonly file: null;
  readonly sha256: null;
  readonly index: number;
  readonly stepK: number | null;
  readonly saturated: null;
}

/** What is handed to the tool. */
interface MeasuredInput {
  readonly baseline: MeasuredFrame[];
  readonly powered: MeasuredFrame[];
  readonly board?: BoardMap;
  readonly view?: View;
  readonly rateHz?: number | null;
  readonly volts?: number | null;
  readonly amps?: number | null;
  readonly cycleS?: number;
  readonly afterS?: number;
  readonly otherSide?: {
    readonly baseline: MeasuredFrame[];
    readonly powered: MeasuredFrame[];
    readonly view: View;
  };
}

/** What of a run is measured beside its findings. */
interface MeasuredAnalysis {
  readonly findings: MeasuredFindings;
  readonly rise: Raster<"K">;
}

export type Analyse = (input: MeasuredInput, options?: Readonly<Record<string, unknown>>) => MeasuredAnalysis;

/** Load the tool's analysis.
 *  @throws Error that says what is missing, if the module can't be loaded.
 */
export async function loadAnalyse(): Promise<Analyse> {
  const place = new URL("../../src/findings/analyse.ts", import.meta.url);
  let loaded: { analyse?: Analyse };
  try {
    loaded = (await import(place.href)) as { analyse?: Analyse };
  } catch (cause) {
    throw new Error(`src/findings/analyse.ts can't be loaded: ${String(cause)}`, { cause });
  }
  if (loaded.analyse === undefined) throw new Error("src/findings/analyse.ts exports no `analyse`");
  return loaded.analyse;
}

/** Ask the tool about a scene. */
export function toolAnswer(
  analyse: Analyse,
  scene: Scene,
  options: Readonly<Record<string, unknown>>,
): Answer {
  const { stepK } = scene.truth.noise;
  const frames = (some: readonly SimFrame[]): MeasuredFrame[] => some.map((one, i) => asFrame(one, i, stepK));
  const { otherSide, cycleS } = scene;
  const input: MeasuredInput = {
    baseline: frames(scene.baseline),
    powered: frames(scene.powered),
    board: scene.board,
    view: scene.view,
    rateHz: scene.rateHz,
    volts: scene.volts,
    amps: scene.amps,
    ...(cycleS === null ? {} : { cycleS }),
    ...(otherSide === null
      ? {}
      : {
          otherSide: {
            baseline: frames(otherSide.baseline),
            powered: frames(otherSide.powered),
            view: otherSide.view,
          },
        }),
  };
  const { findings } = analyse(input, options);
  return {
    transform: findings.alignment,
    hotspots: [...findings.hotspots]
      .sort((a, b) => a.rank - b.rank)
      .map((one) => ({
        px: placeInFirstView(one, scene),
        sigmaPx: one.sourceSigmaPx,
        powerSigmaW: one.powerSigmaW,
        onsetS: one.onsetS,
        onsetSigmaS: one.onsetSigmaS ?? null,
      })),
    suspects: findings.suspects,
    unexplained: findings.unexplained,
  };
}

/** Where a hotspot lies in the first view, in which scenes are scored; one that the second view alone shows is brought
 *  there by way of the board.
 */
function placeInFirstView(
  { view, sourceMm, sourcePx }: MeasuredFindings["hotspots"][number],
  scene: Scene,
): Point {
  if (view !== "other" || sourceMm === null) return [sourcePx[0], sourcePx[1]];
  return applyTo(scene.truth.boardToFrame, sourceMm[0], sourceMm[1]);
}

/** A frame as a reader of files would hand it over: the step of an 8-bit scale is known from the file. */
export function asFrame(frame: SimFrame, index: number, stepK: number | null = null): MeasuredFrame {
  return {
    raster: { unit: "degC", width: frame.width, height: frame.height, data: frame.data.slice() },
    file: null,
    sha256: null,
    index,
    stepK,
    saturated: null,
  };
}
