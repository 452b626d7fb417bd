import { afterEach, describe, expect, it } from "vitest";
import { sharedKernels, useKernels } from "../../../src/numeric/kernels.js";
import { markedPlaces, placesNotZero } from "../../../src/numeric/marked-places.js";
import { makeRandom } from "../../simulate/random.js";
import { agreed } from "./both-ways.js";

afterEach(() => useKernels(true));

describe("markedPlaces", () => {
  it("lists what is 1, and nothing else", () => {
    const mask = Uint8Array.of(0, 1, 2, 255, 1, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 3, 1);
    expect([...agreed(() => markedPlaces(mask))]).toEqual([1, 4, 15, 16, 18]);
    expect([...agreed(() => markedPlaces(new Uint8Array(40)))]).toEqual([]);
    expect([...agreed(() => markedPlaces(new Uint8Array(0)))]).toEqual([]);
  });

  it("lists what is not 0", () => {
    const mask = Uint8Array.from({ length: 53 }, (_, i) => [0, 0, 3, 0, 1, 255, 0][i % 7]!);
    const wanted = [...mask.keys()].filter((i) => mask[i] !== 0);
    expect([...agreed(() => placesNotZero(mask))]).toEqual(wanted);
    expect([...agreed(() => placesNotZero(new Uint8Array(40)))]).toEqual([]);
  });

  it.each([1, 15, 16, 17, 333, 640 * 48])("lists each place of %i once, in order", (length) => {
    const random = makeRandom(`mask ${length}`);
    const mask = Uint8Array.from({ length }, () => (random.uniform(0, 1) < 0.3 ? 1 : 0));
    const wanted = [...mask.keys()].filter((i) => mask[i] === 1);
    expect([...agreed(() => markedPlaces(mask))]).toEqual(wanted);
  });

  it("leaves the shared kernels' memory as it is, where the mask may lie", () => {
    const kernels = sharedKernels()!;
    const at = kernels.put(Uint8Array.of(1, 0, 1));
    const mask = kernels.bytes(at, 3);
    expect([...markedPlaces(mask)]).toEqual([0, 2]);
    expect([...mask]).toEqual([1, 0, 1]);
  });
});
