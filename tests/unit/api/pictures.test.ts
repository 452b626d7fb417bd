import { describe, expect, it } from "vitest";
import { addressOf } from "../../../src/api/endpoints.js";
import { decodePictures, encodePictures, layerOf } from "../../../src/api/pictures.js";

const pictures = {
  width: 3,
  height: 2,
  layers: [
    { name: "baseline", unit: "degC" as const, data: Float32Array.of(20.5, 21, Number.NaN, -3, 0, 99.25) },
    { name: "ranks", unit: "rank" as const, data: Float32Array.of(0, 0, 1, 0, 2, 0) },
  ],
};

describe("a block of pictures", () => {
  it("comes back as it went in, holes and all", () => {
    const back = decodePictures(encodePictures(pictures).buffer);
    expect(back).toEqual(pictures);
    expect(layerOf(back, "ranks")).toEqual(pictures.layers[1]!.data);
    expect(layerOf(back, "rise")).toBeNull();
  });

  it("says its head first: its length as 32 bits, then JSON", () => {
    const block = encodePictures(pictures);
    const length = new DataView(block.buffer).getUint32(0, true);
    expect(length % 4).toBe(0);
    const head = JSON.parse(new TextDecoder().decode(block.subarray(4, 4 + length)));
    expect(head).toMatchObject({ kind: "faultglow/pictures", version: 1, width: 3, height: 2 });
    expect(block.length).toBe(4 + length + 2 * 6 * 4);
  });

  it("that is cut short, or something else, is refused", () => {
    const block = encodePictures(pictures);
    expect(() => decodePictures(block.buffer.slice(0, -4))).toThrow(RangeError);
    expect(() => decodePictures(new ArrayBuffer(2))).toThrow(RangeError);
    expect(() => decodePictures(new Uint8Array(64).fill(0xff).buffer)).toThrow(RangeError);
    expect(() => encodePictures({ ...pictures, width: 4 })).toThrow(/baseline has 6 numbers, not 4×2/);
  });
});

describe("the address of a call", () => {
  it("has its words in place, whatever is in them", () => {
    expect(addressOf("addToInbox", { job: "a/b", name: "on/ü 1.csv" })).toBe(
      "/api/jobs/a%2Fb/inbox?name=on%2F%C3%BC%201.csv",
    );
    expect(addressOf("pictures", { job: "ab", number: 3, view: undefined })).toBe(
      "/api/jobs/ab/attempts/3/pictures",
    );
    expect(() => addressOf("task", {})).toThrow(/needs task/);
  });
});
