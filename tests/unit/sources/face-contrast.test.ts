import { describe, expect, it } from "vitest";
import type { Polygon } from "../../../src/board/polygon.js";
import { contrastOf, faceContrast } from "../../../src/sources/face-contrast.js";
import { makeRandom } from "../../simulate/random.js";
import { BOARD, showRise, VIEW } from "./relaxed-plate.js";
import { modelOf, pictureOf } from "./small-model.js";

const { width } = VIEW.frame;
const [picture] = modelOf().pictures;
const polygonOf = (ref: string): Polygon => BOARD.regions.find((region) => region.ref === ref)!.polygon;

/** A board at 24 °C with faces that stand out of it, blurred as the optics do, and what is added to it. */
function sceneWith(
  facesK: Readonly<Record<string, number>>,
  add: (x: number, y: number) => number = () => 0,
): Float32Array {
  return showRise({}, 0, "scene", facesK).data.map(
    (value, i) => 24 + value + add(i % width, Math.floor(i / width)),
  );
}
const contrast = (ref: string, scene: Float32Array | null): number | null =>
  faceContrast({ ...picture!, scene }, polygonOf(ref));

describe("contrastOf", () => {
  it.each([
    // Of U2, 19 × 16 px, the middle shows all of the step.
    ["U2", 1.7, 0.02],
    ["U1", -0.9, 0.02],
    // Of C1, 4.3 × 2.4 px, the blur leaves three quarters; pixels from four fifths of the best on are taken.
    ["C1", 2.5, 0.2],
    ["C2", -2.5, 0.2],
  ])("%s stands out by %f K", (ref, stepK, share) => {
    const { step } = contrastOf(picture!, polygonOf(ref), sceneWith({ [ref]: stepK }))!;
    expect(Math.abs(step / stepK - 1)).toBeLessThan(share);
  });

  it("neither the board's level nor a slope over it is a step", () => {
    const bare = contrastOf(picture!, polygonOf("U2"), sceneWith({ U2: 1 }))!.step;
    const sloped = contrastOf(
      picture!,
      polygonOf("U2"),
      sceneWith({ U2: 1 }, (x, y) => 3 + 0.02 * x - 0.03 * y),
    )!.step;
    // Medians of a face and of the pixels around it, on a plane: half a pixel of their middles, 0.02 K each.
    expect(Math.abs(sloped - bare)).toBeLessThan(0.04);
  });

  it("a neighbour that changed does not count as the board around", () => {
    // C1 and C2 lie 4 mm apart, U2 lies 5 mm below; a median of the ring does not see them.
    const alone = contrastOf(picture!, polygonOf("C2"), sceneWith({ C2: 1 }))!.step;
    const beside = contrastOf(picture!, polygonOf("C2"), sceneWith({ C2: 1, C1: 30, U2: -20 }))!.step;
    expect(Math.abs(beside - alone)).toBeLessThan(0.05);
  });

  it("tells how uneven a face is, where it has pixels enough to tell", () => {
    const uneven = sceneWith({}, (x) => 0.1 * x);
    // U2 is 18.9 px wide: from the 10th to the 90th percentile of an even slope it is four fifths of that.
    const wide = contrastOf(picture!, polygonOf("U2"), uneven)!;
    expect(wide.spread).toBeGreaterThan(0.1 * 0.6 * 18.9);
    expect(wide.spread).toBeLessThan(0.1 * 18.9);
    const few = contrastOf(picture!, polygonOf("C1"), uneven)!;
    expect(few.pixels).toBeLessThan(12);
    expect(few.spread).toBe(0);
    expect(wide.pixels).toBeGreaterThan(150);
  });

  it("pixels without a reading are left out; without any there is no answer", () => {
    const scene = sceneWith({ U2: 1.7 });
    const random = makeRandom("holes");
    const holed = scene.map((value) => (random.chance(0.3) ? Number.NaN : value));
    const whole = contrastOf(picture!, polygonOf("U2"), scene)!;
    const less = contrastOf(picture!, polygonOf("U2"), holed)!;
    expect(Math.abs(less.step - whole.step)).toBeLessThan(0.02);
    expect(less.pixels).toBeLessThan(whole.pixels);
    expect(
      contrastOf(
        picture!,
        polygonOf("U2"),
        scene.map(() => Number.NaN),
      ),
    ).toBeNull();
  });

  it("no answer for a face out of the picture, or without board around it", () => {
    const away = polygonOf("U2").map(([x, y]) => [x + 90, y] as const);
    expect(contrastOf(picture!, away, sceneWith({}))).toBeNull();
    // Wider than the board on all sides: nothing of the board is beside it.
    const wider = BOARD.outline.map(([x, y]) => [x * 1.5 - 10, y * 1.5 - 6] as const);
    expect(contrastOf(picture!, wider, sceneWith({}))).toBeNull();
  });
});

describe("faceContrast", () => {
  it("of a face that stands out: its step, of either sign", () => {
    expect(contrast("U2", sceneWith({ U2: 1.7 }))).toBeCloseTo(1.7, 1);
    expect(contrast("U2", sceneWith({ U2: -1.7 }))).toBeCloseTo(-1.7, 1);
  });

  it("of a face whose middle is as warm as the board but that is uneven: half its spread", () => {
    const [low, , high] = polygonOf("U2");
    const middleX = 9.3 + 2.7 * ((low![0] + high![0]) / 2);
    // A room mirrored unevenly: 0.25 K/px over the face, none beside it.
    const scene = sceneWith({}, (x, y) => {
      const onFace = Math.abs(x - middleX) < 9.5 && y > 14.8 + 2.7 * 13 && y < 14.8 + 2.7 * 19;
      return onFace ? 0.25 * (x - middleX) : 0;
    });
    const step = contrastOf(picture!, polygonOf("U2"), scene)!;
    expect(Math.abs(step.step)).toBeLessThan(0.3);
    expect(contrast("U2", scene)).toBe(step.spread / 2);
    expect(contrast("U2", scene)!).toBeGreaterThan(1);
  });

  it("a face like the board around it has next to none; without a baseline there is no answer", () => {
    expect(Math.abs(contrast("U2", sceneWith({}))!)).toBeLessThan(1e-6);
    expect(contrast("U2", null)).toBeNull();
    expect(faceContrast(modelOf(BOARD, [pictureOf(VIEW)]).pictures[0]!, polygonOf("U2"))).toBeNull();
  });
});
