// simulate: a plan and how the camera stands this time → the plan of the same board looked at again, and its frames.
import { buildScene, type ScenePlan } from "./build-scene.js";
import { type Camera, type Matrix, product } from "./camera.js";
import { makeRandom, type Random } from "./random.js";
import type { SimFrame, SimView } from "./scene.js";
import { randomScenery } from "./scenery.js";
import { randomSensor } from "./sensor.js";
import { changedSurroundings, randomSurroundings } from "./surroundings.js";

/** How the camera stands in the second look, against the first; what is left out stays. */
export interface Look {
  /** The content turns about the frame's centre, clockwise as seen … */
  readonly turnDeg?: number;
  /** … grows about it … */
  readonly scale?: number;
  /** … comes nearer on one side, as shares of the frame's half width (x, y) … */
  readonly tilt?: readonly [number, number];
  /** … and is then shifted, as shares of the frame's width and height. */
  readonly shift?: readonly [number, number];
  /** Another camera's frame; the field of view stays. Brings a fresh sensor. */
  readonly size?: readonly [number, number];
  /** `same`: the pattern stays with the sensor. Default same. */
  readonly sensor?: "same" | "fresh";
  /** `other`: another time of day: ambient, board, table, room and each part's own offset are drawn anew. Default
   *  other. */
  readonly state?: "same" | "other";
}

/** Look again at the board of a plan: another place of the camera, another thermal state; board, parts and finishes
 *  stay. Sources, strength and times stay as well: set others in the result before it is built.
 *  @param seed draws the state; equal arguments give equal plans.
 */
export function lookAgain(plan: ScenePlan, seed: string | number, look: Look = {}): ScenePlan {
  const random = makeRandom(`second look/${plan.kind}/${plan.seed}/${seed}`);
  const camera = secondCamera(plan.camera, look);
  const ambientC = random.uniform(18, 28);
  const boardC = ambientC + random.uniform(-0.2, 1);
  const fresh = look.sensor === "fresh" || look.size !== undefined;
  const seen: ScenePlan = {
    ...plan,
    camera,
    sensor: fresh ? randomSensor(random, camera.width, camera.height, ambientC) : plan.sensor,
    nudge: { dxPx: 0, dyPx: 0, rotationDeg: 0 },
  };
  return look.state === "same" ? seen : otherState(random, seen, ambientC, boardC);
}

/** The baseline of a second look, the view as someone would click it, and the truth. */
export function renderAgain(
  plan: ScenePlan,
  seed: string | number,
  look: Look = {},
): {
  readonly baseline: readonly SimFrame[];
  readonly view: SimView;
  /** Board mm → px of the second baseline, 3×3 row-major. */
  readonly boardToFrame: Matrix;
  readonly plan: ScenePlan;
} {
  const again: ScenePlan = {
    ...lookAgain(plan, seed, look),
    chosen: [],
    timesS: [1],
    rateHz: null,
    cycle: null,
  };
  const random = makeRandom(`second look's frames/${plan.kind}/${plan.seed}/${seed}`);
  const { baseline, view } = buildScene(random, { ...again, poweredFrames: 1 });
  return { baseline, view, boardToFrame: again.camera.boardToFrame, plan: again };
}

/** What is the board's own stays (mask, parts, how each part stands as a mirror); the rest is drawn anew. */
function otherState(random: Random, plan: ScenePlan, ambientC: number, boardC: number): ScenePlan {
  const { board, side, camera, grid, scenery } = plan;
  const drawn = randomScenery(random, board, side, camera, grid, boardC);
  const roomBefore = randomSurroundings(random, ambientC);
  return {
    ...plan,
    scenery: {
      ...scenery,
      boardC: drawn.boardC,
      background: drawn.background,
      // A part stands off the board by what its body is, and by how the air moves this time.
      partOffsetK: scenery.partOffsetK.map((offsetK) => 0.6 * offsetK + 0.8 * 0.08 * random.normal()),
    },
    roomBefore,
    roomAfter: changedSurroundings(random, roomBefore, 0.03),
  };
}

function secondCamera(first: Camera, look: Look): Camera {
  const { turnDeg = 0, scale = 1, tilt = [0, 0], shift = [0, 0] } = look;
  const [width, height] = look.size ?? [first.width, first.height];
  const growth = (scale * width) / first.width;
  const a = (turnDeg * Math.PI) / 180;
  const [c, s] = [growth * Math.cos(a), growth * Math.sin(a)];
  const half = width / 2;
  const fromCentre: Matrix = [1, 0, -(first.width - 1) / 2, 0, 1, -(first.height - 1) / 2, 0, 0, 1];
  const turned: Matrix = [c, -s, 0, s, c, 0, 0, 0, 1];
  const tilted: Matrix = [1, 0, 0, 0, 1, 0, tilt[0] / half, tilt[1] / half, 1];
  const placed: Matrix = [
    1,
    0,
    (width - 1) / 2 + shift[0] * width,
    0,
    1,
    (height - 1) / 2 + shift[1] * height,
    0,
    0,
    1,
  ];
  const move = product(placed, product(tilted, product(turned, fromCentre)));
  const raw = product(move, first.boardToFrame);
  const boardToFrame = raw.map((value) => value / raw[8]!);
  return {
    ...first,
    width,
    height,
    boardToFrame,
    mmPerPx: first.mmPerPx / growth,
  };
}
