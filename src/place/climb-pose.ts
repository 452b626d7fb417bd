// place: a score of poses and a rough pose → the best pose near it.
import type { Point } from "../board/polygon.js";
import type { PoseScore } from "./pose-score.js";

/** A rough place of the board in the later frame. */
export interface Pose {
  readonly angleRad: number;
  readonly scale: number;
  /** Where the board's middle lies, later px. */
  readonly middle: Point;
  /** Mean agreement of directions, at most 1; chance gives about 0. */
  readonly score: number;
}

/** Sizes of the first steps. */
export interface PoseSteps {
  readonly angleRad: number;
  /** Relative. */
  readonly scale: number;
  readonly shiftPx: number;
}

/** Steps are halved so often. */
const HALVINGS = 2;
/** Rounds at one size of steps. */
const ROUNDS = 4;

/** Go to the best neighbour in turn, scale and place, with half the steps and then a quarter of them. */
export function climbPose(score: PoseScore, start: Pose, steps: PoseSteps): Pose {
  score.turn(start.angleRad, start.scale);
  let best: Pose = { ...start, score: score.scoreAt(start.middle) };
  for (let halving = 1; halving <= HALVINGS; halving++) {
    const share = 2 ** -halving;
    for (let round = 0; round < ROUNDS; round++) {
      const from = best;
      for (const [da, ds, dx, dy] of NEIGHBOURS) {
        const angleRad = from.angleRad + share * da * steps.angleRad;
        const scale = from.scale * Math.exp(share * ds * steps.scale);
        const middle: Point = [
          from.middle[0] + share * dx * steps.shiftPx,
          from.middle[1] + share * dy * steps.shiftPx,
        ];
        score.turn(angleRad, scale);
        const value = score.scoreAt(middle);
        if (value > best.score) best = { angleRad, scale, middle, score: value };
      }
      if (best === from) break;
    }
  }
  return best;
}

/** Steps to the eight neighbours of a pose in its four parameters. */
const NEIGHBOURS: readonly (readonly [number, number, number, number])[] = [
  [1, 0, 0, 0],
  [-1, 0, 0, 0],
  [0, 1, 0, 0],
  [0, -1, 0, 0],
  [0, 0, 1, 0],
  [0, 0, -1, 0],
  [0, 0, 0, 1],
  [0, 0, 0, -1],
];
