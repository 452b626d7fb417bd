// sample-frames: the invented board → three attempts as plans for the simulator.
import { buildScene, type ScenePlan } from "../tests/simulate/build-scene.js";
import { randomCamera } from "../tests/simulate/camera.js";
import { randomCopper } from "../tests/simulate/copper.js";
import { makePlateGrid } from "../tests/simulate/plate.js";
import { makeRandom } from "../tests/simulate/random.js";
import type { Nudge, Scene, TrueBoard } from "../tests/simulate/scene.js";
import { mirrorPlace, randomMirrors, randomScenery } from "../tests/simulate/scenery.js";
import { randomSensor } from "../tests/simulate/sensor.js";
import { changedSurroundings, randomSurroundings, withBlobAt } from "../tests/simulate/surroundings.js";

/** What one attempt was, as the person at the bench tells it. */
export interface Attempt {
  readonly name: string;
  readonly title: string;
  readonly story: string;
  readonly scene: Scene;
}

interface Heating {
  readonly ref: string;
  readonly watts: number;
  readonly fault: boolean;
}

interface AttemptSettings {
  readonly name: string;
  readonly title: string;
  readonly story: string;
  /** The first one is the fault. */
  readonly heating: readonly Heating[];
  readonly timesS: readonly number[];
  readonly rateHz: number | null;
  readonly nudge: Nudge;
  readonly baselineFrames: number;
  readonly volts: number;
  /** Share of what is fed in that turns to heat in the parts; the rest stays in leads and tracks: of the short some
   *  0.25 Ω. */
  readonly share: number;
  /** A hand appears in the radio shield. */
  readonly handInShield: boolean;
}

const AMBIENT_C = 21.6;

const ATTEMPTS: readonly AttemptSettings[] = [
  {
    name: "attempt-1",
    title: "Attempt 1: VSYS fed through the current limit",
    story:
      "The meter does not start; VSYS reads short to ground. Cell out, VSYS fed through the current limit, one frame before and one 20 s after.",
    heating: [{ ref: "C6", watts: 0.18, fault: true }],
    timesS: [20],
    rateHz: null,
    nudge: { dxPx: 1.27, dyPx: -0.64, rotationDeg: 0.22 },
    baselineFrames: 1,
    volts: 0.9,
    share: 0.94,
    handInShield: true,
  },
  {
    name: "attempt-2",
    title: "Attempt 2: the same as a burst",
    story: "The same board again, twelve frames at two a second from the moment of power-on.",
    heating: [{ ref: "C6", watts: 0.16, fault: true }],
    timesS: Array.from({ length: 12 }, (_, i) => (i + 0.4) / 2),
    rateHz: 2,
    nudge: { dxPx: 0, dyPx: 0, rotationDeg: 0 },
    baselineFrames: 4,
    volts: 0.9,
    share: 0.95,
    handInShield: false,
  },
  {
    name: "attempt-3",
    title: "Attempt 3: C6 changed, normal supply",
    story:
      "C6 was changed. The meter starts, draws too much and restarts every ten seconds: normal supply, one frame before and one 8 s after power-on; the board moved while the lead was plugged in.",
    heating: [
      { ref: "U6", watts: 0.12, fault: true },
      { ref: "U1", watts: 0.34, fault: false },
      { ref: "U2", watts: 0.2, fault: false },
    ],
    timesS: [8],
    rateHz: null,
    nudge: { dxPx: -2.14, dyPx: 1.38, rotationDeg: -0.41 },
    baselineFrames: 1,
    volts: 3.7,
    share: 0.9,
    handInShield: true,
  },
];

/** Make the three attempts: one board, camera and sensor; the room and the noise differ. */
export function sampleAttempts(board: TrueBoard): Attempt[] {
  const fixed = makeRandom("sample frames, the bench");
  const camera = { ...randomCamera(fixed, board.outline, "top", [160, 120]), blurPx: 0.85 };
  const copper = randomCopper(fixed, board.outline);
  const grid = makePlateGrid(board.outline, 0.4, (x, y) => 0.014 * copper(x, y));
  const scenery = randomScenery(fixed, board, "top", camera, grid, AMBIENT_C + 0.4);
  const mirrors = randomMirrors(fixed, scenery.parts.length);
  const sensor = randomSensor(fixed, camera.width, camera.height, AMBIENT_C);
  return ATTEMPTS.map((settings, i) => {
    const random = makeRandom(`sample frames, ${settings.name}`);
    const roomBefore = randomSurroundings(random, AMBIENT_C);
    let roomAfter = changedSurroundings(random, roomBefore, settings.handInShield ? 0.4 : 0.03);
    if (settings.handInShield) {
      const shield = scenery.parts.findIndex((part) => part.ref === "SH1");
      const [x, y] = mirrorPlace(camera, mirrors, shield, ...scenery.parts[shield]!.centerMm);
      roomAfter = withBlobAt(random, roomAfter, x, y, 4.5);
    }
    const fault = settings.heating[0]!;
    const plan: ScenePlan = {
      kind:
        settings.rateHz !== null ? "burst" : settings.heating.length > 1 ? "warm-processor" : "reflections",
      seed: i + 1,
      board,
      side: "top",
      camera,
      grid,
      constants: { lossWPerM2K: 19, heatCapacityJPerM2K: 1900 },
      plateKnown: false,
      chosen: settings.heating.map(({ ref, watts, fault: isFault }) => {
        const part = board.parts.find((one) => one.ref === ref);
        if (part === undefined) throw new Error(`the board has no ${ref}`);
        return { part, share: watts / fault.watts, fault: isFault };
      }),
      strength: { by: "watts", value: fault.watts },
      timesS: settings.timesS,
      rateHz: settings.rateHz,
      baselineFrames: settings.baselineFrames,
      poweredFrames: 1,
      nudge: settings.nudge,
      scenery,
      mirrors,
      roomBefore,
      roomAfter,
      sensor,
      stepK: null,
      supply: { volts: settings.volts, share: settings.share },
    };
    return {
      name: settings.name,
      title: settings.title,
      story: settings.story,
      scene: buildScene(random, plan),
    };
  });
}
