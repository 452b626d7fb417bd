import { describe, expect, it } from "vitest";
import { checkViewFrame } from "../../../src/board/check-view-frame.js";
import { parseView } from "../../../src/board/parse-view.js";
import { caught } from "../frames/caught.js";

const sound = () => ({
  kind: "faultglow/view",
  version: 1,
  side: "top",
  frame: { width: 256, height: 192 },
  fiducials: [
    { board: [0, 0], pixel: [18.2, 20.9] },
    { board: [58, 34], pixel: [230.5, 150.1] },
  ],
});

const message = (run: () => unknown): string => caught(run).message;

describe("parseView", () => {
  it("reads a sound view", () => {
    expect(parseView(sound(), "view.json")).toEqual({ view: sound(), notes: [] });
  });

  it("refuses another kind and a newer version", () => {
    expect(message(() => parseView({ ...sound(), kind: "faultglow/board" }, "view.json"))).toMatch(
      /^E_VIEW_KIND: a view has kind "faultglow\/view", but this file has kind "faultglow\/board" \(view\.json, at kind\)/,
    );
    expect(message(() => parseView({ ...sound(), version: 3 }, "view.json"))).toContain(
      "made by a newer faultglow",
    );
  });

  it("names the paths of what does not fit", () => {
    const bad = {
      ...sound(),
      side: "Top",
      frame: { width: 256.5, height: 192 },
      fiducials: [{ board: [0, 0], pixel: [18.2] }],
    };
    const text = message(() => parseView(bad, "view.json"));
    expect(text).toBe(
      'E_VIEW_VALUE: expected one of "top", "bottom", found "Top"; did you mean "top"?; at frame.width: expected a whole number, found 256.5; at fiducials[0].pixel: expected a point [x, y], found a list of 1; and 1 more (view.json, at side). Write "top". Correct these first; the others are listed then.',
    );
  });

  it("notes unknown keys", () => {
    const { fiducials, ...rest } = sound();
    const value = { ...rest, fiducials: fiducials.map((fiducial) => ({ ...fiducial, name: "hole" })) };
    const { view, notes } = parseView(value, "view.json");
    expect(view).toEqual(sound());
    expect(notes.map(({ code, text }) => `${code} ${text}`)).toEqual(
      [0, 1].map(
        (i) =>
          `N_UNKNOWN_KEY view.json, at fiducials[${i}].name: the key "name" is not known and is left out. Remove it, or leave it if it is a remark of your own.`,
      ),
    );
  });
});

describe("checkViewFrame", () => {
  const { view } = parseView(sound(), "view.json");

  it("lets the frame's own size through", () => {
    expect(() => checkViewFrame(view, 256, 192, "view.json")).not.toThrow();
  });

  it("refuses another size, and says if it is a quarter turn", () => {
    expect(message(() => checkViewFrame(view, 160, 120, "view.json"))).toBe(
      "E_VIEW_FRAME: the view was made for frames of 256×192, but the baseline is 160×120 (view.json, at frame). Make a view from this baseline, or give the baseline that belongs to the view.",
    );
    expect(message(() => checkViewFrame(view, 192, 256, "view.json"))).toContain("as if turned by a quarter");
  });
});
