import { describe, expect, it } from "vitest";
import type { InboxFile } from "../../../../src/api/inbox-schema.js";
import { attemptBody, bodyAhead } from "../../../../src/page/frames/attempt-body.js";
import { inOrder } from "../../../../src/page/frames/collect-files.js";
import { isAsked, NO_CONDITIONS, readConditions } from "../../../../src/page/frames/conditions.js";
import { sizeTrouble } from "../../../../src/page/frames/size-trouble.js";
import { sortFrames } from "../../../../src/page/frames/sort-frames.js";

const file = (name: string, more: Partial<InboxFile> = {}): InboxFile => ({
  sha256: name,
  names: [name],
  bytes: 3,
  at: "2026-03-09T14:05:00+01:00",
  sort: "frame",
  frame: null,
  notes: [],
  error: null,
  said: null,
  role: "powered",
  roleBy: "name",
  scale: null,
  attempts: [],
  ...more,
});
const names = (files: readonly InboxFile[]): string[] => files.map(({ sha256 }) => sha256);

describe("inOrder", () => {
  it("counts numbers in names, sends words before pictures, and leaves hidden files out", () => {
    const files = ["b/f10.png", "b/f9.png", "b/.store", "b/f10.png.json", "b/f9.png.json"].map((name) => ({
      name,
      file: new File([], name),
    }));
    expect(inOrder(files).map(({ name }) => name)).toEqual([
      "b/f9.png.json",
      "b/f10.png.json",
      "b/f9.png",
      "b/f10.png",
    ]);
  });
});

describe("sortFrames", () => {
  it("parts baseline, powered, pictures without a scale, and the rest", () => {
    const none = { code: "E_SCALE_NONE", problem: "", fix: "", place: null };
    const sorted = sortFrames([
      file("cold", { role: "baseline" }),
      file("hot"),
      file("grey", { sort: "unreadable", role: null, error: none }),
      file("photo", { sort: "photo", role: null }),
    ]);
    expect(names(sorted.baseline)).toEqual(["cold"]);
    expect(names(sorted.powered)).toEqual(["hot"]);
    expect(names(sorted.scaleless)).toEqual(["grey"]);
    expect(names(sorted.others)).toEqual(["photo"]);
  });

  it("uses a baseline of an earlier attempt again only where there is no new one", () => {
    const old = file("old", { role: "baseline", attempts: [1] });
    const again = sortFrames([old, file("hot")]);
    expect(names(again.baseline)).toEqual(["old"]);
    expect(again.earlier).toEqual([]);
    const anew = sortFrames([old, file("cold", { role: "baseline" }), file("hot")]);
    expect(names(anew.baseline)).toEqual(["cold"]);
    expect(names(anew.earlier)).toEqual(["old"]);
    // What the frames around it make of its role does not count, what a person said does.
    const swayed = sortFrames([file("old", { attempts: [1] }), file("hot")]);
    expect(names(swayed.powered)).toEqual(["hot"]);
    const told = sortFrames([file("old", { attempts: [1], said: "powered" }), file("hot")]);
    expect(names(told.powered)).toEqual(["old", "hot"]);
  });

  it("takes a frame that an attempt had with power, and that was dropped again, for powered again", () => {
    const cold = file("cold", { role: "baseline", attempts: [1] });
    const hot = file("hot", { attempts: [1] });
    const sorted = sortFrames([cold, hot], [], new Set(["hot"]));
    expect(names(sorted.baseline)).toEqual(["cold"]);
    expect(names(sorted.powered)).toEqual(["hot"]);
    // Whatever it looks like beside others, but not against what a person said.
    const cooler = sortFrames([cold, { ...hot, role: "baseline" }], [], new Set(["hot"]));
    expect(names(cooler.powered)).toEqual(["hot"]);
    const said = sortFrames([cold, { ...hot, role: "baseline", said: "baseline" }], [], new Set(["hot"]));
    expect(names(said.powered)).toEqual([]);
  });
});

describe("sortFrames with another view", () => {
  const cold = file("cold", { role: "baseline" });
  const under = file("under-cold", { role: "baseline" });

  it("parts the frames that show the board from elsewhere", () => {
    const sorted = sortFrames([cold, file("hot"), under, file("under-hot")], ["under-cold", "under-hot"]);
    expect(names(sorted.baseline)).toEqual(["cold"]);
    expect(names(sorted.powered)).toEqual(["hot"]);
    expect(names(sorted.other.baseline)).toEqual(["under-cold"]);
    expect(names(sorted.other.powered)).toEqual(["under-hot"]);
  });

  it("leaves its baseline aside once an attempt has it, until there is a powered frame for it", () => {
    const used = { ...under, attempts: [1] };
    const waiting = sortFrames([cold, file("hot"), used], ["under-cold", "under-hot"]);
    expect(waiting.other).toEqual({ baseline: [], powered: [] });
    expect(names(waiting.earlier)).toEqual(["under-cold"]);
    const again = sortFrames([cold, file("hot"), used, file("under-hot")], ["under-cold", "under-hot"]);
    expect(names(again.other.baseline)).toEqual(["under-cold"]);
  });
});

describe("readConditions", () => {
  it("reads comma and point, and leaves out what was not said", () => {
    const read = readConditions(
      {
        ...NO_CONDITIONS,
        volts: "0,9",
        amps: "0.278",
        connected: "display, charger;",
        rateHz: "25",
      },
      40,
    );
    expect(read).toEqual({
      ok: {
        conditions: { volts: 0.9, amps: 0.278, connected: ["display", "charger"], healthy: false },
        options: { rateHz: 25 },
      },
    });
  });

  it("takes the seconds since power-on, but for a burst, whose frames have times of their own", () => {
    const of = (powered: number, typed: object = {}) =>
      readConditions({ ...NO_CONDITIONS, afterS: "12,5", ...typed }, powered);
    expect(of(1)).toMatchObject({ ok: { options: { afterS: 12.5 } } });
    // Several that are averaged are as one.
    expect(of(3)).toMatchObject({ ok: { options: { afterS: 12.5 } } });
    expect(of(3, { rateHz: "9" })).toMatchObject({ ok: { options: { rateHz: 9 } } });
    expect(of(3, { rateHz: "9" })).not.toHaveProperty("ok.options.afterS");
    expect(of(1, { afterS: "soon" })).toEqual({ wrong: "Seconds since power-on" });
  });

  it("leaves out what was typed into a field that is not asked for any more, right or wrong", () => {
    const typed = { ...NO_CONDITIONS, afterS: "20", rateHz: "9", cycleS: "often" };
    expect(readConditions(typed, 1)).toMatchObject({ ok: { options: { afterS: 20 } } });
    expect(readConditions(typed, 1)).not.toHaveProperty("ok.options.rateHz");
    expect(readConditions(typed, 1)).not.toHaveProperty("ok.options.cycleS");
    expect(readConditions(typed, 2)).toEqual({ wrong: "Rhythm" });
    expect(readConditions({ ...typed, afterS: "soon", cycleS: "4" }, 2)).toMatchObject({
      ok: { options: { rateHz: 9, cycleS: 4 } },
    });
  });

  it("asks for the fields that it reads", () => {
    const asked = (powered: number, rateHz = "") =>
      (["volts", "rateHz", "afterS", "cycleS"] as const).filter((name) =>
        isAsked(name, { ...NO_CONDITIONS, rateHz }, powered),
      );
    expect(asked(1)).toEqual(["volts", "afterS"]);
    expect(asked(1, "9")).toEqual(["volts", "afterS"]);
    expect(asked(2)).toEqual(["volts", "rateHz", "afterS", "cycleS"]);
    expect(asked(2, "9")).toEqual(["volts", "rateHz", "cycleS"]);
  });

  it("takes a rhythm as a number or to be found", () => {
    expect(readConditions({ ...NO_CONDITIONS, cycleS: "find" }, 2)).toMatchObject({
      ok: { options: { cycleS: "find" } },
    });
    expect(readConditions({ ...NO_CONDITIONS, cycleS: "4,5" }, 2)).toMatchObject({
      ok: { options: { cycleS: 4.5 } },
    });
  });

  it.each([
    ["volts", "x", "Volts"],
    ["amps", "0", "Amps"],
    ["limitA", "-1", "Limit"],
    ["rateHz", "find", "Frames per second"],
  ])("names the field %s where it is %j", (name, typed, wrong) => {
    expect(readConditions({ ...NO_CONDITIONS, [name]: typed }, 2)).toEqual({ wrong });
  });
});

describe("what may be analysed ahead", () => {
  const view = { side: "top" } as unknown as NonNullable<Parameters<typeof bodyAhead>[0]["placed"]>["view"];
  const placed = { view, board: null, by: "file", sigmaMm: null } as const;
  const parts = (more: Partial<Parameters<typeof bodyAhead>[0]> = {}): Parameters<typeof bodyAhead>[0] => ({
    baseline: [file("cold")],
    powered: [file("hot")],
    other: null,
    typed: NO_CONDITIONS,
    placed,
    otherPlaced: null,
    board: "main",
    ...more,
  });
  const burst = [file("hot-1"), file("hot-2")];
  const typed = { ...NO_CONDITIONS, volts: "0.9", rateHz: "12,5" };

  it("is what is asked for then", () => {
    const whole = parts({ powered: burst, typed });
    expect(bodyAhead(whole)).toMatchObject({
      baseline: ["cold"],
      powered: ["hot-1", "hot-2"],
      view,
      board: "main",
      options: { rateHz: 12.5 },
      conditions: { volts: 0.9 },
    });
    expect(attemptBody(whole)).toEqual({ ok: bodyAhead(whole) });
    expect(bodyAhead(parts())).not.toBeNull();
    // Files of several frames make a burst of one file.
    const film = file("film", { frame: { frames: 40 } as unknown as InboxFile["frame"] });
    expect(bodyAhead(parts({ powered: [film], typed }))).toMatchObject({ options: { rateHz: 12.5 } });
    expect(bodyAhead(parts({ typed }))?.options).toEqual({});
  });

  it.each([
    ["a burst without a rate", { powered: burst }],
    ["a baseline that is not placed", { placed: null }],
    ["no board", { board: null }],
    ["a field that is no number", { typed: { ...typed, amps: "0.2x" } }],
  ])("is nothing with %s", (_, more) => {
    expect(bodyAhead(parts(more))).toBeNull();
  });

  it("takes the other view along where it is placed", () => {
    const other = { baseline: [file("cold-2")], powered: [file("hot-2")] };
    expect(attemptBody(parts({ other }))).not.toHaveProperty("ok.other");
    expect(attemptBody(parts({ other, otherPlaced: placed }))).toMatchObject({
      ok: { other: { baseline: ["cold-2"], powered: ["hot-2"], view } },
    });
  });
});

describe("sizeTrouble", () => {
  const sized = (name: string, width: number) =>
    ({ names: [name], frame: { width, height: 120 } }) as unknown as InboxFile;

  it("says nothing of frames of one size, and names the ones that are of another", () => {
    expect(sizeTrouble([sized("off.csv", 160), sized("on.csv", 160)])).toBeNull();
    expect(sizeTrouble([sized("off.csv", 160), sized("on.csv", 320)])).toBe(
      "on.csv is 320×120 pixels; off.csv is 160×120. Baseline and powered frames have to be of one size: export all at one resolution, drop them here and remove those that don't fit.",
    );
    const burst = ["1", "2", "3"].map((name) => sized(`${name}.csv`, 320));
    expect(sizeTrouble([sized("off.csv", 160), ...burst])).toMatch(
      /^off\.csv is 160×120 pixels; the other frames are 320×120\./,
    );
    const two = [...burst, sized("a.csv", 160), sized("b.csv", 160)];
    expect(sizeTrouble(two)).toMatch(/a\.csv, b\.csv are 160×120 .* or mark those of another view/);
  });
});
