// Laws of the journal: what was said comes out again, and a changed past is seen.
import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { ToolError } from "../../../src/core/errors.js";
import type { Entry } from "../../../src/job/entry-schema.js";
import { entryText, parseJournal } from "../../../src/job/parse-journal.js";

const sha256 = (text: string): string => createHash("sha256").update(text).digest("hex");
const FIRST = sha256("job.json");
const OPTIONS = { sha256, file: "journal.jsonl" };

function write(texts: readonly string[]): Buffer {
  let previous = FIRST;
  const lines = texts.map((text, i) => {
    const entry: Entry = {
      kind: "faultglow/entry",
      version: 1,
      seq: i + 1,
      previous,
      at: "2031-03-01T09:00:00+01:00",
      said: { type: "remark", text },
    };
    const line = entryText(entry);
    previous = sha256(line);
    return `${line}\n`;
  });
  return Buffer.from(lines.join(""));
}

/** Everything that a string can hold: marks that turn the direction, NUL, line ends, halves of characters, markup. */
const anyText = fc.oneof(
  fc.string({ unit: "binary" }),
  fc.constantFrom(
    "../x",
    "a\0b",
    "\u202eevil",
    "<script>",
    "ü 测量",
    "\ud800",
    "line\nend\u2028",
    '"}\n{"',
    "",
  ),
);

describe("a journal", () => {
  it("gives back every text that was said, in its order", () => {
    fc.assert(
      fc.property(fc.array(anyText, { maxLength: 6 }), (texts) => {
        const { entries, torn, length } = parseJournal(write(texts), FIRST, OPTIONS);
        expect(entries.map(({ said }) => (said.type === "remark" ? said.text : null))).toEqual(texts);
        expect([torn, length]).toEqual([null, write(texts).length]);
      }),
    );
  });

  it("cut anywhere holds the lines that are whole, and the rest is known to be torn", () => {
    fc.assert(
      fc.property(
        fc.array(anyText, { minLength: 1, maxLength: 5 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (texts, share) => {
          const whole = write(texts);
          const cut = whole.subarray(0, Math.floor(whole.length * share));
          const { entries, torn, length } = parseJournal(cut, FIRST, OPTIONS);
          expect(entries).toEqual(parseJournal(whole, FIRST, OPTIONS).entries.slice(0, entries.length));
          expect(length + (torn?.length ?? 0)).toBe(cut.length);
          expect(entries).toHaveLength(cut.filter((byte) => byte === 0x0a).length);
        },
      ),
    );
  });

  it("with any byte changed before its last line is refused", () => {
    const texts = fc.array(anyText, { minLength: 2, maxLength: 5 });
    fc.assert(
      fc.property(texts, fc.nat(), fc.integer({ min: 1, max: 255 }), (said, at, flip) => {
        const bytes = write(said);
        const last = bytes.lastIndexOf(0x0a, bytes.length - 2);
        bytes[at % last]! ^= flip;
        expect(() => parseJournal(bytes, FIRST, OPTIONS)).toThrow(ToolError);
      }),
      { numRuns: 300 },
    );
  });

  it("with a line taken out, doubled, or in another place is refused", () => {
    fc.assert(
      fc.property(
        fc.array(anyText, { minLength: 3, maxLength: 6 }),
        fc.nat(),
        fc.constantFrom("out", "double", "swap"),
        (texts, at, what) => {
          const lines = write(texts).toString().split("\n").slice(0, -1);
          // The end of a journal can be lost without a trace in the journal: the seal tells.
          const i = at % (lines.length - 1);
          if (what === "out") lines.splice(i, 1);
          else if (what === "double") lines.splice(i, 0, lines[i]!);
          else [lines[i], lines[i + 1]] = [lines[i + 1]!, lines[i]!];
          const text = Buffer.from(`${lines.join("\n")}\n`);
          expect(() => parseJournal(text, FIRST, OPTIONS)).toThrow(/E_JOB_JOURNAL/);
        },
      ),
    );
  });

  it("belongs to one job.json alone", () => {
    expect(() => parseJournal(write(["a"]), sha256("another"), OPTIONS)).toThrow(/E_JOB_JOURNAL: job\.json/);
  });
});
