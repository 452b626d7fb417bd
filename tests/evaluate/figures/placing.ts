// evaluate: boards looked at again from another place and at another time → how exactly the new view is found without
// fiducials.
import { placeView } from "../../../src/board/place-view.js";
import { averageFrames } from "../../../src/clean/average-frames.js";
import { boardPoint } from "../../../src/core/units.js";
import { placeNewView } from "../../../src/place/place-new-view.js";
import { applyTo, inverse, type Matrix } from "../../simulate/camera.js";
import { makePlannedScene } from "../../simulate/make-scene.js";
import { boundsOf, isInside, type Point } from "../../simulate/polygons.js";
import { makeRandom, type Random } from "../../simulate/random.js";
import type { SimFrame, SimView } from "../../simulate/scene.js";
import { type Look, renderAgain } from "../../simulate/second-look.js";
import { estimateFigure, type Figure, shareFigure } from "../figure.js";
import { type Estimate, inverseOf, quantileWithInterval, rootMeanSquare, shareOf } from "../statistics.js";
import type { SpecialFigure, TrialValues } from "./special.js";

const KINDS = ["still", "reflections", "unpowered"] as const;
/** Every fourth trial can't be placed: its board lies otherwise, shows its other side, or is another one. */
const WRONG_EVERY = 4;
const WRONG_WAYS = ["half", "quarter", "mirrored", "other"] as const;
/** A trusted view that is off by more than this and by more than five of its own sigmas is a wrong one, mm. */
const WRONG_MM = 1;
const WRONG_SIGMAS = 5;
const GRID = 9;

export const PLACING: SpecialFigure = {
  name: "placing",
  trials: 400,
  run: async (_analyse, index, seed) => runTrial(index, seed),
  summarise,
};

function runTrial(index: number, seed: number): TrialValues {
  const random = makeRandom(`placing/${seed}/${index}`);
  const own = 1000 * seed + index;
  const { plan, scene } = makePlannedScene(KINDS[index % KINDS.length]!, own);
  const wrong =
    index % WRONG_EVERY === WRONG_EVERY - 1
      ? WRONG_WAYS[Math.floor(index / WRONG_EVERY) % WRONG_WAYS.length]!
      : null;
  const look = drawLook(random, wrong);
  const seen = wrong === "other" ? makePlannedScene("still", own + 500_000).plan : plan;
  const again = renderAgain(seen, index, look);
  const frames = wrong === "mirrored" ? again.baseline.map(mirrored) : again.baseline;
  const place = (view: SimView) =>
    placeNewView({ frame: meanOf(scene.baseline), view }, meanOf(frames), scene.board);
  const exact: SimView = {
    ...scene.view,
    fiducials: scene.view.fiducials.map(({ board }) => ({
      board,
      pixel: applyTo(plan.camera.boardToFrame, ...board),
    })),
  };
  const found = place(exact);
  if (wrong !== null)
    return { wrong: true, trusted: found.trusted, innerZ: found.innerZ, rivalZ: found.rivalZ };
  const clicked = place(scene.view);
  return {
    wrong: false,
    trusted: found.trusted,
    innerZ: found.innerZ,
    rivalZ: found.rivalZ,
    errorMm: found.view === null ? null : errorMm(found.view, again.boardToFrame, plan.board.outline),
    sigmaMm: Number.isFinite(found.sigmaMm) ? found.sigmaMm : null,
    clickedMm: clicked.trusted ? errorMm(clicked.view!, again.boardToFrame, plan.board.outline) : null,
  };
}

/** As a board is laid down again by hand: turns to ±15°, scale ±15 %, shift to a fifth of the frame, a little tilt. */
function drawLook(random: Random, wrong: (typeof WRONG_WAYS)[number] | null): Look {
  const turn = wrong === "half" ? 180 : wrong === "quarter" ? 90 : 0;
  return {
    turnDeg: turn + random.uniform(-15, 15),
    scale: random.uniform(0.85, 1.15),
    shift: [random.uniform(-0.2, 0.2), random.uniform(-0.2, 0.2)],
    tilt: [random.uniform(-0.03, 0.03), random.uniform(-0.03, 0.03)],
    sensor: random.pick(["same", "fresh"] as const),
    ...(random.chance(0.2)
      ? { size: random.pick([[160, 120] as const, [256, 192] as const, [320, 240] as const]) }
      : {}),
  };
}

function meanOf(frames: readonly SimFrame[]) {
  return averageFrames(frames).mean;
}

function mirrored({ unit, width, height, data }: SimFrame): SimFrame {
  const out = new Float32Array(data.length);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) out[y * width + x] = data[y * width + width - 1 - x]!;
  }
  return { unit, width, height, data: out };
}

/** Root mean square error over the whole board, what lies out of the frame too, mm. */
function errorMm(view: SimView, boardToFrame: Matrix, outline: readonly Point[]): number {
  const placed = placeView(view);
  const toBoard = inverse(boardToFrame);
  const [x0, y0, x1, y1] = boundsOf(outline);
  let sum = 0;
  let count = 0;
  for (let j = 0; j < GRID; j++) {
    for (let i = 0; i < GRID; i++) {
      const x = x0 + ((i + 0.5) / GRID) * (x1 - x0);
      const y = y0 + ((j + 0.5) / GRID) * (y1 - y0);
      if (!isInside(outline, x, y)) continue;
      const [px, py] = placed.toFrame(boardPoint(x, y));
      const [u, v] = applyTo(toBoard, px, py);
      sum += (u - x) ** 2 + (v - y) ** 2;
      count++;
    }
  }
  return Math.sqrt(sum / count);
}

function summarise(trials: readonly TrialValues[]): Figure[] {
  const right = trials.filter((trial) => trial.wrong === false);
  const numbers = (some: readonly TrialValues[], name: string): number[] =>
    some.map((trial) => trial[name]).filter((value): value is number => typeof value === "number");
  const trusted = right.filter((trial) => trial.trusted === true);
  const errors = numbers(trusted, "errorMm");
  const z = trusted.map((trial) => Number(trial.errorMm) / Number(trial.sigmaMm));
  const isWrong = (trial: TrialValues): boolean =>
    Number(trial.errorMm) > WRONG_MM && Number(trial.errorMm) > WRONG_SIGMAS * Number(trial.sigmaMm);
  const plain = (
    name: string,
    estimate: Estimate | null,
    bar: Figure["bar"] = null,
    aim: Figure["aim"] = null,
  ): Figure => estimateFigure(name, estimate, { unit: "", digits: 3 }, bar, aim);
  const all = numbers(right, "errorMm");
  return [
    plain(
      "new view without fiducials: error over the board, mm, median",
      quantileWithInterval(all, 0.5),
      { atMost: 0.1 },
      { atMost: 0.08 },
    ),
    plain(
      "  of those that are trusted",
      quantileWithInterval(errors, 0.5),
      { atMost: 0.1 },
      { atMost: 0.08 },
    ),
    plain("  of those that are trusted, mm, 90 %", quantileWithInterval(errors, 0.9)),
    plain(
      "  with the clicked earlier view's own error, mm, median",
      quantileWithInterval(numbers(right, "clickedMm"), 0.5),
    ),
    plain(
      "  stated σ ÷ true error",
      inverseOf(rootMeanSquare(z)),
      { between: [0.8, 1.25] },
      { between: [0.9, 1.1] },
    ),
    shareFigure(
      "  trusted",
      shareOf(right.map((trial) => trial.trusted === true)),
      { atLeast: 0.8 },
      { atLeast: 0.9 },
    ),
    shareFigure("  wrong among the trusted", shareOf(trusted.map(isWrong)), { atMost: 0.01 }, { atMost: 0 }),
    shareFigure(
      "  trusted though turned, mirrored or another board",
      shareOf(trials.filter((trial) => trial.wrong === true).map((trial) => trial.trusted === true)),
      { atMost: 0.02 },
      { atMost: 0 },
    ),
  ];
}
