import { describe, expect, it } from "vitest";
import { findHotspots } from "../../../src/findings/find-hotspots.js";
import { BOARD, makeAttempt, VIEW } from "./make-attempt.js";

describe("a fault on a part that was not drawn", () => {
  const frames = makeAttempt({ seed: "undrawn", watts: { C1: 0.15 } });
  const nextWith = (drawn: (ref: string) => boolean) => {
    const board = { ...BOARD, regions: BOARD.regions.filter(({ ref }) => drawn(ref)) };
    return findHotspots({ ...frames, view: VIEW, board });
  };

  it("is asked for by its place wherever its change was taken for a mirrored one", () => {
    const { nextStep, hotspots } = nextWith((ref) => ref !== "C1");
    // C1 lies at 30 to 31.6, 5 to 5.9 mm.
    const place = /(\d+\.\d), (\d+\.\d) mm on the top side.* add it to the board map/.exec(nextStep ?? "")!;
    expect(Math.hypot(Number(place[1]) - 30.8, Number(place[2]) - 5.45)).toBeLessThan(1);
    for (const { nearest } of hotspots) for (const { ref } of nearest) expect(ref).not.toBe("C1");
  });

  it("is not asked for once it is drawn", () => {
    const { nextStep, suspects } = nextWith(() => true);
    expect(suspects[0]!.ref).toBe("C1");
    expect(nextStep).not.toContain("add it to the board map");
  });
});
