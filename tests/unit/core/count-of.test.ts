import { expect, it } from "vitest";
import { countOf } from "../../../src/core/count-of.js";

it("gives the name of one an s where there are none or several", () => {
  expect([0, 1, 2, 12_000].map((count) => countOf(count, "faulty pixel"))).toEqual([
    "0 faulty pixels",
    "1 faulty pixel",
    "2 faulty pixels",
    "12000 faulty pixels",
  ]);
});
