import { describe, expect, it } from "vitest";
import { groupFrames, rolesByOrder } from "../../../src/watch/group-frames.js";
import { type PlanState, planAttempts } from "../../../src/watch/plan-attempts.js";
import { isSettled, seeFiles } from "../../../src/watch/see-files.js";
import type { Role, WatchedFrame } from "../../../src/watch/watched-frame.js";

const frame = (name: string, mtimeMs: number, role: Role | null = null, width = 64): WatchedFrame => ({
  path: `/in/${name}`,
  name,
  bytes: 900,
  mtimeMs,
  sha256: `hash of ${name}`,
  width,
  height: 48,
  role,
});
const names = (groups: readonly { frames: readonly WatchedFrame[] }[]) =>
  groups.map((group) => group.frames.map((one) => one.name).join(" "));

describe("groupFrames", () => {
  it("parts frames at a pause longer than the gap", () => {
    const frames = [frame("a", 0), frame("b", 3000), frame("c", 8001), frame("d", 12_000)];
    expect(names(groupFrames(frames, 5000))).toEqual(["a b", "c d"]);
  });

  it("parts frames where the role or the size changes", () => {
    const frames = [
      frame("a", 0, "baseline"),
      frame("b", 1, "baseline"),
      frame("c", 2, "powered"),
      frame("d", 3, "powered", 32),
      frame("e", 4, "baseline", 32),
    ];
    expect(names(groupFrames(frames, 5000))).toEqual(["a b", "c", "d", "e"]);
  });

  it("puts frames in the order of time, and of one moment in natural order", () => {
    const frames = [frame("f10", 70), frame("f9", 70), frame("late", 90), frame("f2", 70)];
    expect(names(groupFrames(frames, 5000))).toEqual(["f2 f9 f10 late"]);
  });
});

describe("rolesByOrder", () => {
  const groups = groupFrames([frame("a", 0), frame("b", 10_000), frame("c", 20_000)], 5000);
  it("alternates, beginning with a baseline", () => {
    expect(rolesByOrder(groups, new Map()).map((group) => group.role)).toEqual([
      "baseline",
      "powered",
      "baseline",
    ]);
  });

  it("goes on from what the job knows", () => {
    const recorded = new Map<string, Role>([["hash of a", "powered"]]);
    expect(rolesByOrder(groups, recorded).map((group) => group.role)).toEqual([
      "powered",
      "baseline",
      "powered",
    ]);
  });
});

describe("planAttempts", () => {
  const base: PlanState = { recorded: new Map(), pendingMs: [], quietMs: 60_000, gapMs: 5000 };
  const groups = groupFrames(
    [
      frame("off", 0, "baseline"),
      frame("on1", 10_000, "powered"),
      frame("on2", 11_000, "powered"),
      frame("on3", 30_000, "powered"),
    ],
    5000,
  );
  const ready = (state: Partial<PlanState>, from = groups) =>
    planAttempts(from, { ...base, ...state }).ready.map(
      ({ baseline, powered }) => `${names([baseline])} → ${names([powered])}`,
    );
  const waiting = (state: Partial<PlanState>, from = groups) =>
    planAttempts(from, { ...base, ...state }).waiting.map(
      ({ group, for: what }) => `${names([group])}: ${what}`,
    );

  it("pairs each powered group with the latest baseline before it", () => {
    expect(ready({})).toEqual(["off → on1 on2", "off → on3"]);
  });

  it("waits for the last group while it may grow", () => {
    expect(ready({ quietMs: 4999 })).toEqual(["off → on1 on2"]);
    expect(waiting({ quietMs: 4999 })).toEqual(["on3: more"]);
  });

  it("waits for a group that a file not whole yet may belong to, and for its baseline", () => {
    expect(ready({ pendingMs: [15_500] })).toEqual(["off → on3"]);
    expect(ready({ pendingMs: [4000] })).toEqual([]);
    expect(ready({ pendingMs: [90_000] })).toHaveLength(2);
  });

  it("leaves out what the job has, and takes the rest of a group that grew", () => {
    const recorded = new Map<string, Role>([
      ["hash of off", "baseline"],
      ["hash of on1", "powered"],
    ]);
    expect(ready({ recorded })).toEqual(["off → on2", "off → on3"]);
    expect(
      ready({ recorded: new Map([...recorded, ["hash of on2", "powered"], ["hash of on3", "powered"]]) }),
    ).toEqual([]);
  });

  it("takes a frame once that lies in the folder twice", () => {
    const twice = groupFrames(
      [
        frame("off", 0, "baseline"),
        frame("on", 1, "powered"),
        { ...frame("copy", 2, "powered"), sha256: "hash of on" },
      ],
      5000,
    );
    expect(ready({}, twice)).toEqual(["off → on"]);
  });

  it("waits for a baseline of the same size, and for a role", () => {
    const some = groupFrames(
      [frame("off", 0, "baseline", 32), frame("on", 1, "powered"), frame("what", 2, null)],
      5000,
    );
    expect(waiting({}, some)).toEqual(["on: baseline", "what: role"]);
    expect(ready({}, some)).toEqual([]);
  });
});

describe("seeFiles", () => {
  const file = (bytes: number, mtimeMs: number) => [{ path: "/in/a", name: "a", bytes, mtimeMs }];
  it("counts from the last change, and never calls an empty file whole", () => {
    let seen = seeFiles(new Map(), file(100, 5), 1000);
    seen = seeFiles(seen, file(200, 5), 2000);
    seen = seeFiles(seen, file(200, 5), 2900);
    expect(isSettled(seen.get("/in/a")!, 2999, 1000)).toBe(false);
    expect(isSettled(seen.get("/in/a")!, 3000, 1000)).toBe(true);
    seen = seeFiles(seen, file(200, 6), 3100);
    expect(seen.get("/in/a")!.sinceMs).toBe(3100);
    expect(isSettled(seeFiles(new Map(), file(0, 5), 0).get("/in/a")!, 9e9, 1000)).toBe(false);
  });

  it("forgets what is gone", () => {
    const seen = seeFiles(new Map(), file(100, 5), 1000);
    expect(seeFiles(seeFiles(seen, [], 2000), file(100, 5), 3000).get("/in/a")?.sinceMs).toBe(3000);
  });
});
