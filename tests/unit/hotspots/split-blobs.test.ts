import { describe, expect, it } from "vitest";
import { splitBlobs } from "../../../src/hotspots/split-blobs.js";

const picture = (rows: readonly string[]) => ({
  width: rows[0]!.length,
  height: Float32Array.from([...rows.join("")].map((c) => (c === "." ? 0 : Number(c)))),
  mask: Uint8Array.from([...rows.join("")].map((c) => (c === "." ? 0 : 1))),
});

const split = (rows: readonly string[], prominence: number) => {
  const { width, height, mask } = picture(rows);
  const { labels, patches } = splitBlobs(height, mask, width, () => prominence);
  const drawn = rows.map((_, y) =>
    [...labels.subarray(y * width, (y + 1) * width)].map((n) => (n === 0 ? "." : String(n))).join(""),
  );
  return { drawn, patches };
};

// Peaks of 9 and 7 K with a pass of 4 K between them: the lower one stands 3 K clear.
const TWO_PEAKS = ["..........", ".298542573", ".198431271", ".........."];

describe("splitBlobs", () => {
  it("two peaks are two patches where the lower one stands clear, the higher one first", () => {
    const { drawn, patches } = split(["2984573", "1973461"], 2.5);
    expect(patches).toEqual([
      { peak: 1, prominenceK: 9 },
      { peak: 5, prominenceK: 3 },
    ]);
    expect(drawn[0]![1]).toBe("1");
    expect(drawn[0]![5]).toBe("2");
    expect(drawn.join("")).not.toContain(".");
  });

  it("and one patch where it does not", () => {
    const { drawn, patches } = split(["2984573", "1973461"], 3.5);
    expect(patches).toEqual([{ peak: 1, prominenceK: 9 }]);
    expect(drawn).toEqual(["1111111", "1111111"]);
  });

  it("a prominence that just reaches the limit stands", () => {
    expect(split(["2984573", "1973461"], 3).patches).toHaveLength(2);
  });

  it("three peaks in a row: each is held against its own pass", () => {
    // Tops 9, 6 and 8 with passes 5 and 2: the middle one stands 1 K clear, the last 6 K.
    expect(split(["956283"], 0.5).patches).toEqual([
      { peak: 0, prominenceK: 9 },
      { peak: 4, prominenceK: 6 },
      { peak: 2, prominenceK: 1 },
    ]);
    expect(split(["956283"], 2).patches.map((p) => p.peak)).toEqual([0, 4]);
  });

  it("areas that touch at a corner are one, areas with a gap are never merged", () => {
    expect(split(["5...", "..4.", ".3.."], 99).patches).toHaveLength(2);
    const corner = split(["5...", ".4..", "..3."], 99);
    expect(corner.patches).toEqual([{ peak: 0, prominenceK: 5 }]);
    expect(corner.drawn).toEqual(["1...", ".1..", "..1."]);
  });

  it("the last column and the first column of the next row do not touch", () => {
    expect(split(["....7", "6...."], 0.1).patches).toHaveLength(2);
  });

  it("a plateau is one patch with its first pixel as the peak", () => {
    expect(split([".555.", ".555."], 0.1).patches).toEqual([{ peak: 1, prominenceK: 5 }]);
  });

  it("NaN is outside, an empty mask gives nothing", () => {
    const height = Float32Array.from([3, Number.NaN, 2, 1]);
    const { labels, patches } = splitBlobs(height, new Uint8Array(4).fill(1), 4, () => 0.5);
    expect([...labels]).toEqual([1, 0, 2, 2]);
    expect(patches.map((p) => p.peak)).toEqual([0, 2]);
    expect(splitBlobs(height, new Uint8Array(4), 4, () => 0.5).patches).toEqual([]);
  });

  it("the limit is asked of the lower peak", () => {
    const { width, height, mask } = picture(TWO_PEAKS);
    const asked: number[] = [];
    splitBlobs(height, mask, width, (peak) => {
      asked.push(peak);
      return 0.5;
    });
    const highest = height.indexOf(9);
    expect(asked.length).toBeGreaterThan(0);
    expect(asked).not.toContain(highest);
  });

  it("takes heights below zero, zeros of either sign and equal ones in the order from the top", () => {
    // One row, each pixel a patch of its own where it is higher than both sides: prominence 0 splits all.
    const height = Float32Array.from([-3, -5, -1, -5, 0, -5, -0, -5, 2, -5, 2]);
    const { patches } = splitBlobs(height, new Uint8Array(11).fill(1), 11, () => 0);
    expect(patches.map(({ peak }) => peak)).toEqual([8, 10, 4, 6, 2, 0]);
  });

  it("frames of more than two million pixels are split as small ones are", () => {
    const width = 2100;
    const height = new Float32Array(width * 1001);
    const mask = new Uint8Array(height.length);
    const at = 999 * width + 2003;
    for (const [k, kelvin] of [7, 4, 8.5, 4.5, 9].entries()) {
      height[at + k] = kelvin;
      mask[at + k] = 1;
    }
    const { patches, labels } = splitBlobs(height, mask, width, () => 1);
    expect(patches.map(({ peak }) => peak - at)).toEqual([4, 2, 0]);
    expect([...labels.subarray(at - 1, at + 6)]).toEqual([0, 3, 2, 2, 1, 1, 0]);
  });

  it("a pixel between patches that are kept apart goes to that of its warmest neighbour, from whichever side", () => {
    expect(split(["9.", ".5", "8."], 1).drawn).toEqual(["1.", ".1", "2."]);
    expect(split(["8.", ".5", "9."], 1).drawn).toEqual(["2.", ".1", "1."]);
    expect(split(["957"], 1).drawn).toEqual(["112"]);
    expect(split(["759"], 1).drawn).toEqual(["211"]);
  });

  it("a zero below zero is a zero: equal heights are walked in reading order", () => {
    const { patches } = splitBlobs(
      Float32Array.of(-0, -5, 0, -5, -0),
      Uint8Array.of(1, 0, 1, 0, 1),
      5,
      () => 1,
    );
    expect(patches.map(({ peak }) => peak)).toEqual([0, 2, 4]);
    const touching = splitBlobs(Float32Array.of(-0, 0, -0), Uint8Array.of(1, 1, 1), 3, () => 1);
    expect(touching.patches.map(({ peak }) => peak)).toEqual([0]);
  });
});
