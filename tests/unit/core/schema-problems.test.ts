// What is wrong with a value is said in words, whatever the schema asks for.
import { describe, expect, it } from "vitest";
import * as z from "zod";
import { schemaProblems } from "../../../src/core/schema-problems.js";

const said = (schema: z.ZodType, value: unknown): string[] =>
  schemaProblems({ a: value }, z.object({ a: schema }), "E_BENCH_REQUEST").map(
    ({ path, text }) => `${path}: ${text}`,
  );
const kinds = z.discriminatedUnion("type", [
  z.object({ type: z.literal("board") }),
  z.object({ type: z.literal("remark") }),
]);

describe("schemaProblems", () => {
  it.each<[string, z.ZodType, unknown, string]>([
    ["a long text", z.string().max(3), "abcd", 'a: expected a text of at most 3 letters, found "abcd"'],
    ["a short text", z.string().min(2), "a", 'a: expected a text of 2 letters or more, found "a"'],
    ["a blank text", z.string().regex(/\S/), " ", 'a: expected a text that is not blank, found " "'],
    [
      "another form",
      z.string().regex(/^[0-9a-f]{4}$/),
      "../x",
      'a: expected a text that fits /^[0-9a-f]{4}$/, found "../x"',
    ],
    [
      "no moment",
      z.iso.datetime(),
      "yesterday",
      'a: expected a moment such as 2031-03-01T08:05:00Z, found "yesterday"',
    ],
    [
      "a long list",
      z.array(z.number()).max(3),
      [1, 2, 3, 4],
      "a: expected a list of at most 3, found a list of 4",
    ],
    ["an empty list", z.array(z.number()).min(1), [], "a: expected a list of 1 or more, found an empty list"],
    ["a large number", z.number().max(7), 8, "a: expected a number not above 7, found 8"],
    ["no such kind", kinds, { type: "x" }, 'a.type: expected one of "board", "remark", found "x"'],
    [
      "no such word",
      z.enum(["top", "bottom"]),
      "tob",
      'a: expected one of "top", "bottom", found "tob"; did you mean "top"?',
    ],
  ])("%s", (_, schema, value, text) => {
    expect(said(schema, value)).toEqual([text]);
  });

  it("calls a list by what it holds", () => {
    const view = z.object({ fiducials: z.array(z.number()).min(2) });
    expect(
      schemaProblems({ fiducials: [1] }, view, "E_BENCH_REQUEST").map(({ text, fix }) => [text, fix]),
    ).toEqual([
      ["expected a list of 2 or more fiducials, found a list of 1", "Write a list of 2 or more fiducials"],
    ]);
  });

  it("tells what is missing, and what a slip stands for", () => {
    const asked = z.object({ width: z.number() });
    const texts = (value: unknown) => schemaProblems(value, asked, "E_BENCH_REQUEST").map(({ text }) => text);
    expect(texts({})).toEqual(["width is missing"]);
    expect(texts({ widht: 3 })).toEqual(['width is missing; does "widht" stand for it?']);
  });

  it("says nothing of what fits", () => {
    expect(said(z.string().max(3), "abc")).toEqual([]);
  });
});
