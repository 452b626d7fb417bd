import { describe, expect, it } from "vitest";
import { keyOf, placeText, readPlaces } from "../../../../src/page/readings/read-place.js";
import { sayDone } from "../../../../src/page/readings/say-done.js";
import { lineOf, takePasted } from "../../../../src/page/readings/take-pasted.js";
import { said } from "../../../../src/page/state/announce.js";

const REFS = ["U6", "J3", "C12"];

describe("readPlaces", () => {
  it.each([
    ["VSYS", [{ net: "VSYS" }]],
    ["u6", [{ ref: "U6" }]],
    ["U6 4", [{ ref: "U6", pin: "4" }]],
    ["U6.4", [{ ref: "U6", pin: "4" }]],
    ["U6 pin A4", [{ ref: "U6", pin: "A4" }]],
    ["J3 9-11", [9, 10, 11].map((pin) => ({ ref: "J3", pin: String(pin) }))],
    ["U7 4", [{ net: "U7 4" }]],
    ["  ", []],
    ["J3 10-1", []],
  ])("reads %j where the board has U6, J3 and C12", (typed, places) => {
    expect(readPlaces(typed, REFS)).toEqual(places);
  });

  it("takes a name with a pin for a part where there is no map, and a name alone for a net", () => {
    expect(readPlaces("U7 4", [])).toEqual([{ ref: "U7", pin: "4" }]);
    expect(readPlaces("U7", [])).toEqual([{ net: "U7" }]);
  });

  it("words places, and knows one again however it is written", () => {
    expect(placeText({ ref: "U6", pin: "4" })).toBe("U6 pin 4");
    expect(placeText({ net: "VSYS" })).toBe("VSYS");
    expect(keyOf({ net: "vsys" })).toBe(keyOf({ net: "VSYS" }));
    expect(keyOf({ net: "U6" })).not.toBe(keyOf({ ref: "U6" }));
  });
});

describe("sayDone", () => {
  const slip = (text: string) => ({ code: "N_JOB_NAME", severity: "warning", text }) as const;

  it("says what was done, and beside it what looks like a slip, each once", () => {
    sayDone("3 values taken.", { notes: [] });
    expect(said.value).toMatchObject({ text: "3 values taken.", isBad: false });
    const notes = ['No map has the part "C22".', 'No map has the part "C23".', 'No map has the part "C22".'];
    sayDone("3 values taken.", { notes: notes.map(slip) });
    expect(said.value).toMatchObject({
      text: '3 values taken. No map has the part "C22". No map has the part "C23".',
      isBad: true,
    });
  });

  it("is still where what was done is seen without words", () => {
    sayDone("Before.", { notes: [] });
    sayDone("", { notes: [] });
    expect(said.value.text).toBe("Before.");
    sayDone("", { notes: [slip("A slip.")] });
    expect(said.value).toMatchObject({ text: "A slip.", isBad: true });
  });
});

describe("takePasted", () => {
  const places = [{ net: "A" }, { net: "B" }, { net: "C" }];

  it("leaves a single value to its cell", () => {
    expect(takePasted("0.45", places, "diode", "reading")).toBeNull();
    expect(takePasted("0.45\n", places, "diode", "reading")).toBeNull();
  });

  it("fills a column from the cell down, passing over blanks, and says what found no row", () => {
    const taken = takePasted("0,45\r\n\r\nOL\r\n0.3", places, "diode", "reading");
    expect(taken?.lines).toEqual([
      {
        type: "reading",
        reading: { net: "A", measure: "diode", value: 0.45, overRange: false, raw: "0,45" },
      },
      { type: "reading", reading: { net: "C", measure: "diode", value: null, overRange: true, raw: "OL" } },
    ]);
    expect(taken?.assumed).toEqual(["1 pasted value has no row and was left out"]);
    expect(takePasted("0.1\n0.2\n0.3\n0.4\n0.5", places, "diode", "reading")?.assumed).toEqual([
      "2 pasted values have no row and were left out",
    ]);
  });

  it("takes a table with places of its own", () => {
    const taken = takePasted("net\tvalue\nVSYS\t0.31\nV3\t0.42\n", places, "diode", "reading");
    expect(taken?.lines).toMatchObject([
      { type: "reading", reading: { net: "VSYS", value: 0.31 } },
      { type: "reading", reading: { net: "V3", value: 0.42 } },
    ]);
    expect(takePasted("net\tvalue\nVSYS\t0.31\n", places, "diode", "reference")?.lines).toMatchObject([
      { type: "reference", reference: { net: "VSYS", value: 0.31 } },
    ]);
  });

  it("takes nothing where one value can't be understood", () => {
    expect(() => takePasted("0.45\nabc", places, "diode", "reading")).toThrow(/"abc" is no reading/);
    expect(() => lineOf({ net: "A" }, "3 W", "voltage", "reading")).toThrow(/voltage/);
  });
});
