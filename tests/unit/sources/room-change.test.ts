import { describe, expect, it } from "vitest";
import { type FaceChange, ROOM_CHANGE_DEFAULTS, roomChange } from "../../../src/sources/room-change.js";
import { makeRandom } from "../../simulate/random.js";

/** Shares of the room's change that faces of several finishes show: dull ones, a bare die, metal. */
const FINISHES = [
  [0.07, 24],
  [0.35, 2],
  [0.85, 5],
] as const;
const SIGMA_K = 0.03;
/** What edges and finishes leave on a face, as the estimate takes it to be. */
const { faceErrorK } = ROOM_CHANGE_DEFAULTS;

/** Faces of a board in a room that changed by so much (root mean square over the directions they mirror). */
function facesIn(
  roomK: number,
  seed: string,
  finishes: typeof FINISHES | readonly (readonly [number, number])[] = FINISHES,
) {
  const random = makeRandom(`room ${seed}`);
  return finishes.flatMap(([share, count]) =>
    Array.from({ length: count }, (): FaceChange => {
      const changeK = share * roomK * random.normal() + Math.hypot(SIGMA_K, faceErrorK) * random.normal();
      return { changeK, sigmaK: SIGMA_K, share };
    }),
  );
}

/** Geometric mean of the estimates over several boards. */
function usual(estimate: (seed: string) => number): number {
  const logs = Array.from({ length: 30 }, (_, k) => Math.log(estimate(`${k}`)));
  return Math.exp(logs.reduce((a, b) => a + b, 0) / logs.length);
}

const heaters: FaceChange[] = [14, 6, 9.5].map((changeK) => ({ changeK, sigmaK: SIGMA_K, share: 0.07 }));

describe("roomChange", () => {
  it.each([0.3, 1, 3])("recovers a change of %f K from faces of several finishes", (roomK) => {
    // Some seven faces tell it: each board to a third, the mean of thirty to 6 %; what was expected beforehand draws
    // it by some per cent more.
    const mean = usual((seed) => roomChange(facesIn(roomK, seed)));
    expect(Math.abs(Math.log(mean / roomK))).toBeLessThan(0.25);
    for (let k = 0; k < 10; k++) {
      // Three standard deviations of a single board.
      expect(Math.abs(Math.log(roomChange(facesIn(roomK, `${k}`)) / roomK))).toBeLessThan(1);
    }
  });

  it("many dull faces tell it too, if it is large", () => {
    const dull = [[0.07, 40]] as const;
    const mean = usual((seed) => roomChange(facesIn(3, seed, dull)));
    expect(Math.abs(Math.log(mean / 3))).toBeLessThan(0.25);
  });

  it.each([0.3, 3])("parts that heat are outliers: the room of %f K stays what it was", (roomK) => {
    const without = usual((seed) => roomChange(facesIn(roomK, seed)));
    const withThem = usual((seed) => roomChange([...facesIn(roomK, seed), ...heaters]));
    expect(Math.abs(Math.log(withThem / without))).toBeLessThan(0.1);
  });

  it("lies between what dull faces tell and what most mirrors show, in the middle of their logarithms", () => {
    // Of a room that changed by 4 K dull faces would show 0.28 K each; finishes this much alike show next to nothing of
    // any room.
    const alike = Array.from(
      { length: 30 },
      (): FaceChange => ({ changeK: 0.02, sigmaK: 0.03, share: 0.07 }),
    );
    const mirrors = (...shownK: number[]) =>
      shownK.map((changeK): FaceChange => ({ changeK, sigmaK: 0.03, share: 0.85 }));
    // By a hand in the only mirror, or in one of two, dull faces are hardly gainsaid.
    const byDull = roomChange([...alike, ...mirrors(4.25)]);
    expect(byDull).toBeLessThan(0.5);
    expect(roomChange([...alike, ...mirrors(4.25, 0.1)])).toBeLessThan(0.5);
    const byMost = roomChange([...alike, ...mirrors(4.25, -3.4, 3.4)]);
    // Three mirrors move the estimate of all faces by a little, too.
    expect(byMost).toBeGreaterThan(Math.sqrt(4 * 0.5 * byDull));
    expect(byMost).toBeLessThan(Math.sqrt(4 * 2.5 * byDull));
    // Of four the lower one in the middle, beside a fourth face that saw nothing.
    expect(roomChange([...alike, ...mirrors(4.25, -3.4, 3.4, 0.1)])).toBeGreaterThan(0.8 * byMost);
  });

  it("a quiet room gives a small value, the smaller the less noise the faces have", () => {
    const quiet = usual((seed) => roomChange(facesIn(0, seed)));
    expect(quiet).toBeLessThan(ROOM_CHANGE_DEFAULTS.usualK / 4);
    const quieter = usual((seed) => {
      const faces = facesIn(0, seed).map((face) => ({
        ...face,
        changeK: face.changeK / 10,
        sigmaK: SIGMA_K / 10,
      }));
      return roomChange(faces, { faceErrorK: faceErrorK / 10 });
    });
    expect(quieter).toBeLessThan(quiet);
  });

  it("nothing seen, or nothing that could tell, gives what was expected beforehand", () => {
    expect(roomChange([])).toBe(ROOM_CHANGE_DEFAULTS.usualK);
    expect(roomChange([], { usualK: 0.31 })).toBe(0.31);
    const blind = [0.2, -0.1, 0.05].map((changeK): FaceChange => ({ changeK, sigmaK: 50, share: 0.85 }));
    expect(Math.abs(Math.log(roomChange(blind) / ROOM_CHANGE_DEFAULTS.usualK))).toBeLessThan(0.11);
  });

  it("more change never means a quieter room, as long as it is the room's; its sign and the order mean nothing", () => {
    let last = 0;
    for (const factor of [0, 0.5, 1, 2, 4]) {
      const faces = facesIn(1, "growing").map((face) => ({ ...face, changeK: factor * face.changeK }));
      const roomK = roomChange(faces);
      expect(roomK).toBeGreaterThanOrEqual(last);
      last = roomK;
      const turned = faces.map((face) => ({ ...face, changeK: -face.changeK })).reverse();
      expect(roomChange(turned)).toBe(roomK);
    }
    expect(last).toBeGreaterThan(2);
  });
});
