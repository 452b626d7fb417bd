import { describe, expect, it } from "vitest";
import { checkBoard } from "../../../src/board/check-board.js";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { caught } from "../frames/caught.js";

type Json = Record<string, unknown>;
const rectangle = (x: number, y: number, width: number, height: number): number[][] => [
  [x, y],
  [x + width, y],
  [x + width, y + height],
  [x, y + height],
];
const region = (ref: string, polygon: unknown, more: Json = {}): Json => ({
  ref,
  side: "top",
  polygon,
  ...more,
});
const map = (regions: unknown, more: Json = {}): Json => ({
  kind: "faultglow/board",
  version: 1,
  outline: rectangle(0, 0, 58, 34),
  regions,
  ...more,
});
const sound = () =>
  map(
    [
      region("U7", rectangle(4, 5, 6, 3), {
        label: "charge controller",
        kind: "ic",
        finish: "moulded",
        nets: ["VSYS"],
      }),
      region("C3", rectangle(12, 5, 1, 2), { kind: "passive", emissivity: 0.9, normallyWarm: true }),
    ],
    { name: "invented", thicknessMm: 0.8, plate: { conductanceWPerK: 0.02 } },
  );
const brief = (value: unknown) =>
  checkBoard(value).map(({ severity, code, path }) => `${severity} ${code} ${path}`);

describe("checkBoard", () => {
  it("finds nothing wrong with a sound map, nor with the smallest one", () => {
    expect(checkBoard(sound())).toEqual([]);
    expect(checkBoard(map([region("U1", rectangle(1, 2, 3, 4))]))).toEqual([]);
  });

  it.each([
    ["no object", 7, "", "found|7"],
    ["null", null, "", "null"],
    ["a list", [], "", "an empty list"],
    ["no kind", { outline: [] }, "kind", "no kind"],
    ["another kind", { kind: "faultglow/view", version: 1 }, "kind", 'kind "faultglow/view"'],
    ["a newer version", { kind: "faultglow/board", version: 2 }, "version", "newer faultglow"],
    ["an odd version", { kind: "faultglow/board", version: "1" }, "version", 'found "1"'],
  ])("refuses %s before anything else", (_, value, path, words) => {
    const problems = checkBoard(value);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ severity: "error", code: "E_BOARD_KIND", path });
    expect(problems[0]!.text).toMatch(new RegExp(words));
  });

  it("names the path of each value that does not fit, what was expected and what was found", () => {
    const problems = checkBoard(
      map(
        [
          region("U1", [
            [1, 2],
            [3, "4"],
            [5, 6],
          ]),
          region(" ", rectangle(1, 2, 3, 4)),
          region("U3", [[1, 2], [3, 4, 5], { x: 1 }]),
          { ref: "U4", Side: "top", polygon: rectangle(11, 2, 3, 4) },
          region("U5", rectangle(21, 2, 3, 4), { finish: "solder mask", emissivity: 1.2, nets: "VSYS" }),
          region("U6", [[1, 2]]),
          region("U7", [
            [1, 2],
            [3, Number.POSITIVE_INFINITY],
            [5, 7],
          ]),
          "U8",
        ],
        { thicknessMm: 0 },
      ),
    ).map(({ path, text }) => `${path}: ${text}`);
    expect(problems).toEqual([
      "thicknessMm: expected a number above 0, found 0",
      'regions[0].polygon[1][1]: expected a number, found "4"',
      'regions[1].ref: expected a text that is not blank, found " "',
      "regions[2].polygon[1]: expected a point [x, y], found a list of 3",
      "regions[2].polygon[2]: expected a point [x, y], found an object",
      'regions[3].side: side is missing; does "Side" stand for it?',
      'regions[4].finish: expected one of "solder-mask", "moulded", "ceramic", "bare-die", "bare-metal", "coated", found "solder mask"; did you mean "solder-mask"?',
      "regions[4].emissivity: expected a number not above 1, found 1.2",
      'regions[4].nets: expected a list, found "VSYS"',
      "regions[5].polygon: expected a list of 3 or more, found a list of 1",
      "regions[6].polygon[1][1]: expected a number, found a number that is too large or none at all",
      'regions[7]: expected an object, found "U8"',
      'regions[3].Side: the key "Side" is not known and is left out; did you mean side?',
    ]);
  });

  it("says what is missing and how it looks", () => {
    const { outline: _, ...rest } = sound();
    expect(checkBoard(rest)).toEqual([
      {
        severity: "error",
        code: "E_BOARD_VALUE",
        path: "outline",
        text: "outline is missing",
        fix: "Add outline: a list",
      },
    ]);
  });

  it("warns of unknown keys and guesses what was meant; $schema is let through", () => {
    const value = sound() as { regions: Json[] };
    value.regions[0]!["normalyWarm"] = true;
    value.regions[1]!["remark"] = "looks scorched";
    const problems = checkBoard({ ...value, $schema: "board.schema.json", thickness_mm: 1 });
    expect(problems.every(({ severity, code }) => severity === "warning" && code === "N_UNKNOWN_KEY")).toBe(
      true,
    );
    expect(problems.map(({ path, text }) => `${path}: ${text}`)).toEqual([
      'regions[0].normalyWarm: the key "normalyWarm" is not known and is left out; did you mean normallyWarm?',
      'regions[1].remark: the key "remark" is not known and is left out',
      'thickness_mm: the key "thickness_mm" is not known and is left out; did you mean thicknessMm?',
    ]);
  });

  it("names the two edges where a polygon crosses itself", () => {
    const bow = [
      [3, 4],
      [9, 8],
      [9, 4],
      [3, 8],
    ];
    const [problem, ...others] = checkBoard(map([region("U9", bow)]));
    expect(others).toEqual([]);
    expect(problem).toMatchObject({ severity: "error", code: "E_BOARD_POLYGON", path: "regions[0].polygon" });
    expect(problem!.text).toBe(
      "the polygon of U9 crosses or touches itself: the edge from point 0 [3, 4] to point 1 [9, 8] meets the edge from point 2 [9, 4] to point 3 [3, 8]",
    );
  });

  it.each([
    [
      "that touch at a corner",
      [
        [1, 1],
        [4, 3],
        [7, 1],
        [7, 6],
        [4, 3],
        [1, 6],
      ],
    ],
    [
      "with a spike",
      [
        [1, 1],
        [8, 1],
        [5, 1],
        [5, 4],
      ],
    ],
    [
      "whose corner lies on another edge",
      [
        [1, 1],
        [9, 1],
        [9, 5],
        [4, 1],
        [1, 5],
      ],
    ],
  ])("refuses polygons %s", (_, polygon) => {
    expect(brief(map([region("U9", polygon)]))).toEqual(["error E_BOARD_POLYGON regions[0].polygon"]);
  });

  it.each([
    [
      "on one line",
      [
        [1, 1],
        [3, 2],
        [5, 3],
        [9, 5],
      ],
      "one line",
    ],
    [
      "on one place",
      [
        [2, 3],
        [2, 3],
        [2, 3],
      ],
      "one place",
    ],
  ])("refuses polygons %s", (_, polygon, words) => {
    const problems = checkBoard(map([region("U9", polygon)]));
    const errors = problems.filter(({ severity }) => severity === "error");
    expect(errors).toMatchObject([{ code: "E_BOARD_POLYGON", path: "regions[0].polygon" }]);
    expect(errors[0]!.text).toContain(words);
  });

  it("checks the outline too, and then does not judge places by it", () => {
    expect(
      brief(
        map([region("U9", rectangle(70, 1, 2, 3))], {
          outline: [
            [0, 0],
            [9, 9],
            [9, 0],
            [0, 9],
          ],
        }),
      ),
    ).toEqual(["error E_BOARD_POLYGON outline"]);
  });

  it("warns of repeated points and leaves them out", () => {
    const closed = [...rectangle(4, 5, 6, 3), [4, 5]];
    expect(checkBoard(map([region("U7", closed)]))).toMatchObject([
      {
        severity: "warning",
        code: "N_BOARD_DOUBT",
        path: "regions[0].polygon[4]",
        text: "the polygon of U7 repeats a point, left out",
      },
    ]);
    const { board, notes } = parseBoardMap(map([region("U7", closed)]), "board.json");
    expect(board.regions[0]!.polygon).toEqual(rectangle(4, 5, 6, 3));
    expect(notes).toMatchObject([{ code: "N_BOARD_DOUBT", severity: "warning" }]);
    expect(notes[0]!.text).toMatch(/^board\.json, at regions\[0\]\.polygon\[4\]: the polygon of U7 repeats/);
  });

  it("refuses a ref that comes twice, on either side, and warns where only case differs", () => {
    const problems = brief(
      map([
        region("U7", rectangle(4, 5, 6, 3)),
        region("U8", rectangle(14, 5, 6, 3)),
        region("U7", rectangle(24, 5, 6, 3), { side: "bottom" }),
        region("u8", rectangle(34, 5, 6, 3)),
      ]),
    );
    expect(problems).toEqual(["error E_BOARD_REF regions[2].ref", "warning N_BOARD_DOUBT regions[3].ref"]);
  });

  it("refuses regions off the board and warns of those that overhang", () => {
    const problems = checkBoard(
      map([
        region("J1", rectangle(54, 5, 6.5, 3)),
        region("U2", rectangle(61, 5, 6, 3)),
        region("U3", rectangle(58, 15, 6, 3)),
        region("U4", rectangle(52, 25, 6, 3)),
      ]),
    );
    expect(problems.map(({ severity, path, text }) => `${severity} ${path}: ${text}`)).toEqual([
      "warning regions[0].polygon: J1 reaches 2.5 mm beyond the outline",
      "error regions[1].polygon: U2 lies wholly outside the outline",
      "error regions[2].polygon: U3 lies wholly outside the outline",
    ]);
  });

  it("sees a part that bridges a notch of a concave outline", () => {
    const outline = [
      [0, 0],
      [20, 0],
      [20, 30],
      [12, 30],
      [12, 10],
      [8, 10],
      [8, 30],
      [0, 30],
    ];
    expect(brief(map([region("U1", rectangle(6, 15, 8, 3))], { outline }))).toEqual([
      "warning N_BOARD_DOUBT regions[0].polygon",
    ]);
    expect(brief(map([region("U1", rectangle(8.5, 15, 3, 2))], { outline }))).toEqual([
      "error E_BOARD_OUTSIDE regions[0].polygon",
    ]);
  });

  it("warns of overlaps on one side, save under a shield or inside another part", () => {
    const overlap = (a: Json, b: Json) =>
      brief(map([region("U1", rectangle(4, 5, 6, 3), a), region("U2", rectangle(8, 6, 6, 4), b)]));
    expect(overlap({}, {})).toEqual(["warning N_BOARD_DOUBT regions[1].polygon"]);
    expect(overlap({}, { kind: "shield" })).toEqual([]);
    expect(overlap({}, { side: "bottom" })).toEqual([]);
    const inside = map([region("U1", rectangle(4, 5, 6, 3)), region("U2", rectangle(5, 6, 2, 1))]);
    expect(brief(inside)).toEqual([]);
    const twice = map([region("U1", rectangle(4, 5, 6, 3)), region("U2", rectangle(4, 5, 6, 3))]);
    expect(brief(twice)).toEqual(["warning N_BOARD_DOUBT regions[1].polygon"]);
    const abut = map([region("U1", rectangle(4, 5, 6, 3)), region("U2", rectangle(10, 5, 6, 3))]);
    expect(brief(abut)).toEqual([]);
    const rounded = map([region("U1", rectangle(4, 5, 6.01, 3)), region("U2", rectangle(10, 5, 6, 3))]);
    expect(brief(rounded)).toEqual([]);
  });

  it("refuses parts smaller than any, as those of a large board in inches are", () => {
    const chips = (scale: number) =>
      [5, 30, 60, 90].map((x, k) =>
        region(`C${k}`, rectangle(scale * x, scale * 40, scale * 1.6, scale * 0.8)),
      );
    const board = (scale: number) =>
      map(chips(scale), { outline: rectangle(0, 0, scale * 150, scale * 100) });
    expect(brief(board(1))).toEqual([]);
    expect(checkBoard(board(1 / 25.4)).map(({ code, path, text }) => `${code} ${path}: ${text}`)).toEqual([
      "E_BOARD_VALUE regions: half of the 4 regions are no longer than 0.063 mm, and the smallest chips made are 0.25 mm long",
    ]);
    // Two small marks are no measure of a map.
    expect(brief(map(chips(1 / 25.4).slice(0, 2), { outline: rectangle(0, 0, 150 / 25.4, 4) }))).toEqual([]);
  });

  it("refuses a board of a size that none has, and warns of an unlikely thickness, no regions, and two emissivities", () => {
    const inches = map([], { outline: rectangle(0, 0, 2.3, 1.3), thicknessMm: 0.03 });
    expect(checkBoard(inches).map(({ severity, path, text }) => `${severity} ${path}: ${text}`)).toEqual([
      "error outline: the board is 2.3 × 1.3 mm large, and a board has 5 to 1500 mm",
      "warning thicknessMm: a board 0.03 mm thick is unusual",
      "warning regions: the map has no regions, so that no part can be named",
    ]);
    expect(brief(map([region("U1", rectangle(1, 2, 3, 4))], { outline: rectangle(0, 0, 1501, 30) }))).toEqual(
      ["error E_BOARD_VALUE outline"],
    );
    const both = region("U1", rectangle(1, 2, 3, 4), { finish: "ceramic", emissivity: 0.5 });
    expect(brief(map([both]))).toEqual(["warning N_BOARD_DOUBT regions[0].emissivity"]);
  });

  it("does not change what it is given", () => {
    const value = sound();
    const before = structuredClone(value);
    checkBoard(value);
    parseBoardMap(value, "board.json");
    expect(value).toEqual(before);
  });
});

describe("parseBoardMap", () => {
  it("gives back a sound map as it is", () => {
    expect(parseBoardMap(sound(), "board.json")).toEqual({ board: sound(), notes: [] });
  });

  it.each([
    ["E_BOARD_KIND", { kind: "faultglow/findings", version: 1 }],
    ["E_BOARD_VALUE", map([region("U1", rectangle(1, 2, 3, 4), { side: "left" })])],
    [
      "E_BOARD_POLYGON",
      map([
        region("U1", [
          [1, 1],
          [5, 4],
          [5, 1],
          [1, 4],
        ]),
      ]),
    ],
    ["E_BOARD_REF", map([region("U1", rectangle(1, 2, 3, 4)), region("U1", rectangle(11, 2, 3, 4))])],
    ["E_BOARD_OUTSIDE", map([region("U1", rectangle(-9, 2, 3, 4))])],
  ])("throws %s", (code, value) => {
    expect(caught(() => parseBoardMap(value, "board.json")).code).toBe(code);
  });

  it("lists up to three errors and counts the others", () => {
    const bad = ["U1", "U2", "U3", "U4", "U5"].map((ref, i) => region(ref, rectangle(-9, 2 + 5 * i, 3, 4)));
    expect(caught(() => parseBoardMap(map(bad), "board.json")).message).toBe(
      "E_BOARD_OUTSIDE: U1 lies wholly outside the outline; at regions[1].polygon: U2 lies wholly outside the outline; at regions[2].polygon: U3 lies wholly outside the outline; and 2 more (board.json, at regions[0].polygon). Check its points: all are in millimetres from the same origin as the outline, seen from the top side. Run faultglow board check to list them all.",
    );
  });
});
