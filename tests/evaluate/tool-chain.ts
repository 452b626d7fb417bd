// evaluate: a scene → what faultglow answers, through the same function as the command and the page.
import type { BoardMap, View } from "../../src/board/board-schema.js";
import type { Raster } from "../../src/core/raster.js";
import type { Nudge, Scene, SimFrame } from "../simulate/scene.js";
import type { Answer } from "./answer.js";

/** What of the tool's interface is measured here; written down anew, so that a change of it is noticed. */
export interface MeasuredFindings {
  readonly alignment: Nudge;
  readonly hotspots: readonly {
    readonly rank: number;
    readonly sourcePx: readonly [number, number];
    readonly sourceSigmaPx: number;
    readonly powerSigmaW: number | null;
  }[];
  readonly suspects: readonly {
    readonly ref: string;
    readonly side: "top" | "bottom";
    readonly probability: number;
    readonly powerW: number | null;
    readonly normallyWarm: boolean;
    readonly hotspot: number | null;
  }[];
}

interface MeasuredFrame {
  readonly raster: Raster<"degC">;
  readonly file: null;
  readonly sha256: null;
  readonly index: number;
  readonly stepK: number | null;
  readonly saturated: null;
}

type Analyse = (
  input: {
    readonly baseline: MeasuredFrame[];
    readonly powered: MeasuredFrame[];
    readonly board: BoardMap;
    readonly view: View;
    readonly rateHz: number | null;
    readonly volts: number | null;
    readonly amps: number | null;
  },
  options?: Readonly<Record<string, unknown>>,
) => { readonly findings: MeasuredFindings };

/** Load the tool's analysis.
 *  @throws Error that says what is missing, if the module can't be loaded.
 */
export async function loadTool(
  options: Readonly<Record<string, unknown>>,
): Promise<(scene: Scene) => Answer> {
  const place = new URL("../../src/findings/analyse.ts", import.meta.url);
  let loaded: { analyse?: Analyse };
  try {
    loaded = (await import(place.href)) as { analyse?: Analyse };
  } catch (cause) {
    throw new Error(`src/findings/analyse.ts can't be loaded: ${String(cause)}`, { cause });
  }
  const { analyse } = loaded;
  if (analyse === undefined) throw new Error("src/findings/analyse.ts exports no `analyse`");
  return (scene) => {
    const { findings } = analyse(
      {
        baseline: scene.baseline.map((one, i) => asFrame(one, i, scene.truth.noise.stepK)),
        powered: scene.powered.map((one, i) => asFrame(one, i, scene.truth.noise.stepK)),
        board: scene.board,
        view: scene.view,
        rateHz: scene.rateHz,
        volts: scene.volts,
        amps: scene.amps,
      },
      options,
    );
    return {
      transform: findings.alignment,
      hotspots: [...findings.hotspots]
        .sort((a, b) => a.rank - b.rank)
        .map((one) => ({
          px: [one.sourcePx[0], one.sourcePx[1]],
          sigmaPx: one.sourceSigmaPx,
          powerSigmaW: one.powerSigmaW,
        })),
      suspects: findings.suspects,
    };
  };
}

/** A frame as a reader of files would hand it over: the step of an 8-bit scale is known from the file. */
function asFrame(frame: SimFrame, index: number, stepK: number | null): MeasuredFrame {
  return {
    raster: { unit: "degC", width: frame.width, height: frame.height, data: frame.data.slice() },
    file: null,
    sha256: null,
    index,
    stepK,
    saturated: null,
  };
}
