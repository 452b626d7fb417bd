// Reference: RFC 4180, Y. Shafranovich, October 2005, §2: the seven rules of CSV.
import { expect, it } from "vitest";
import { parseTextFrames } from "../../src/frames/parse-text-frames.js";
import { caught } from "../unit/frames/caught.js";

const read = (text: string) => parseTextFrames(new TextEncoder().encode(text), { unit: "C" });
const values = (text: string) => read(text).rasters.map((r) => [r.width, r.height, ...r.data]);
const expected = [[3, 2, 21.5, 22.25, 23, 24, 25.5, 26.75]];

it.each([
  ["1: lines end with CR LF", "21.5,22.25,23\r\n24,25.5,26.75\r\n"],
  ["2: the last line end may be missing", "21.5,22.25,23\r\n24,25.5,26.75"],
  ["3: a header line may come first", "left,middle,right\r\n21.5,22.25,23\r\n24,25.5,26.75\r\n"],
  ["5: fields may be quoted", '"21.5","22.25","23"\r\n24,25.5,26.75\r\n'],
  [
    "6: quoted fields may hold line ends and commas",
    '"left,\r\nouter",middle,right\r\n21.5,22.25,23\r\n24,25.5,26.75\r\n',
  ],
  [
    "7: a quote in a quoted field is doubled",
    '"the ""left"", one",middle,right\r\n21.5,22.25,23\r\n24,25.5,26.75\r\n',
  ],
])("rule %s", (_, text) => expect(values(text)).toEqual(expected));

it("rule 4: all lines have as many fields; blanks belong to a field and are no separators", () => {
  expect(caught(() => read("21.5,22.25,23\r\n24,25.5\r\n26,27,28\r\n")).code).toBe("E_TEXT_RAGGED");
  // The RFC leaves blanks in the field; a number does not change by them.
  expect(values(" 21.5 , 22.25 ,23\r\n24,25.5, 26.75\r\n")).toEqual(expected);
});
