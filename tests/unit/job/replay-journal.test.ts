// Lines of a journal → a job in memory, and the small operations on jobs.
import { describe, expect, it } from "vitest";
import type { BoardMap } from "../../../src/board/board-schema.js";
import { type Entry, entrySchema, type Said } from "../../../src/job/entry-schema.js";
import { findDifference } from "../../../src/job/find-difference.js";
import type { Attachments, Job } from "../../../src/job/job.js";
import { momentOf } from "../../../src/job/moment-of.js";
import { replayJournal } from "../../../src/job/replay-journal.js";
import { unknownNames } from "../../../src/job/unknown-names.js";

const NONE = "0".repeat(64);
const HEADER = {
  kind: "faultglow/job",
  version: 1,
  id: "0123456789abcdef",
  createdAt: "2031-03-01T09:00:00+01:00",
  device: "sluice gauge",
  complaint: null,
  symptom: null,
  remark: null,
  tool: { name: "faultglow", version: "0.0.1" },
} as const;
const MAP: BoardMap = {
  kind: "faultglow/board",
  version: 1,
  outline: [
    [0, 0],
    [30, 0],
    [30, 20],
  ],
  regions: [
    {
      ref: "U7",
      side: "top",
      polygon: [
        [1, 1],
        [2, 1],
        [2, 3],
      ],
      nets: ["VSYS"],
    },
  ],
};
const ATTACHED: Attachments = {
  board: () => MAP,
  attempt: (number) => {
    throw new Error(`attempt ${number} was asked for`);
  },
};

function entriesOf(...said: Said[]): Entry[] {
  return said.map((one, i) =>
    entrySchema.parse({
      kind: "faultglow/entry",
      version: 1,
      seq: i + 1,
      previous: NONE,
      at: `2031-03-01T09:0${i}:00+01:00`,
      said: one,
    }),
  );
}

const replay = (...said: Said[]) => replayJournal(HEADER, entriesOf(...said), ATTACHED, NONE);
const reading = (net: string, value: number): Said => ({
  type: "reading",
  reading: { net, measure: "diode", value, overRange: false, raw: String(value) },
});

describe("replayJournal", () => {
  it("sorts what was said by its kind, each with its line and time", () => {
    const job = replay(
      { type: "board", name: "main", file: "m.json", sha256: NONE },
      reading("VSYS", 0.2),
      { type: "action", action: { did: "lifted", ref: "C6" } },
      reading("VSYS", 0.31),
    );
    expect(job.boards).toMatchObject([{ seq: 1, name: "main", map: MAP }]);
    expect(job.readings.map(({ seq, at, value }) => [seq, at, value])).toEqual([
      [2, "2031-03-01T09:01:00+01:00", 0.2],
      [4, "2031-03-01T09:03:00+01:00", 0.31],
    ]);
    expect(job.actions).toEqual([{ seq: 3, at: "2031-03-01T09:02:00+01:00", did: "lifted", ref: "C6" }]);
  });

  it("leaves withdrawn lines out of all but the journal, and asks for no file of theirs", () => {
    const job = replay(
      reading("VSYS", 0.2),
      { type: "attempt", number: 1, sha256: NONE },
      { type: "withdrawal", seq: 1, reason: "wrong net" },
      { type: "withdrawal", seq: 2, reason: "wrong frames" },
    );
    expect(job.readings).toEqual([]);
    expect(job.attempts).toEqual([]);
    expect([...job.withdrawn]).toEqual([1, 2]);
    expect(job.entries).toHaveLength(4);
  });

  it("lets no line be withdrawn by one before it", () => {
    const job = replay({ type: "withdrawal", seq: 2, reason: "too early" }, reading("VSYS", 0.2));
    expect(job.readings).toHaveLength(1);
  });
});

describe("the schema of a line", () => {
  it.each([
    ["a value and over-range at once", { net: "A", measure: "diode", value: 1, overRange: true, raw: "OL" }],
    ["neither", { net: "A", measure: "diode", value: null, overRange: false, raw: "" }],
    ["no place", { measure: "diode", value: 1, overRange: false, raw: "1" }],
  ])("refuses a reading with %s", (_, one) => {
    expect(() => entriesOf({ type: "reading", reading: one } as Said)).toThrow();
  });
});

describe("unknownNames", () => {
  it("tells of parts and nets that no map has, and of none where no map tells", () => {
    const said: Said[] = [reading("VSIS", 0.2), { type: "action", action: { did: "lifted", ref: "U8" } }];
    expect(unknownNames(replay(...said))).toEqual([]);
    const board: Said = { type: "board", name: "main", file: "m.json", sha256: NONE };
    const notes = unknownNames(replay(board, ...said));
    expect(notes.map(({ code }) => code)).toEqual(["N_JOB_NAME", "N_JOB_NAME"]);
    expect(notes.map(({ text }) => text)).toEqual([
      'Line 2 of the journal names the net "VSIS", which no map has. If "VSYS" was meant, withdraw line 2 and say it again.',
      'Line 3 of the journal names the part "U8", which no map has. If it is a slip, withdraw line 3 and say it again.',
    ]);
    expect(unknownNames(replay(board, ...said), 3)).toHaveLength(1);
    // On the page lines have no numbers.
    expect(unknownNames(replay(board, ...said), 1, false).map(({ text }) => text)).toEqual([
      'No map has the net "VSIS". Perhaps "VSYS" was meant.',
      'No map has the part "U8".',
    ]);
  });

  it("tells of the rail of an attempt that no map has", () => {
    const board: Said = { type: "board", name: "main", file: "m.json", sha256: NONE };
    const fed = (rail: string | null) => ({ seq: 2, attempt: { conditions: { rail } } });
    const of = (rail: string | null, ...said: Said[]) =>
      unknownNames({ ...replay(...said), attempts: [fed(rail)] } as unknown as Job).map(({ text }) => text);
    expect(of("VSIS", board)).toEqual([
      'Line 2 of the journal names the rail "VSIS", which no map has. If "VSYS" was meant, withdraw line 2 and add the attempt again if the word matters.',
    ]);
    expect([of("VSYS", board), of(null, board), of("VSIS")]).toEqual([[], [], []]);
    // Nets are alike whatever their letters' size, and what was fed need be none of the map.
    expect([of(" vsys", board), of("12V IN", board)]).toEqual([[], []]);
  });
});

describe("findDifference", () => {
  const before = { a: [1, { b: 2.5 }], c: null };
  it.each([
    [{ a: [1, { b: 2.5 }], c: null }, 0, null],
    [{ a: [1, { b: 2.500001 }], c: null }, 1e-6, null],
    [{ a: [1, { b: 2.500001 }], c: null }, 0, "a[1].b"],
    [{ a: [1, { b: 2.5 }, 3], c: null }, 1, "a"],
    [{ a: [1, { b: 2.5 }] }, 1, "c"],
    [{ a: [1, { b: 2.5 }], c: null, d: 0 }, 1, "d"],
    [{ a: [1, { b: "2.5" }], c: null }, 1, "a[1].b"],
  ])("%j at tolerance %d: %s", (after, tolerance, path) => {
    expect(findDifference(before, after, tolerance)?.path ?? null).toBe(path);
  });
});

describe("momentOf", () => {
  it("names the same moment with the local offset", () => {
    const date = new Date("2031-07-01T12:34:56Z");
    const text = momentOf(date);
    expect(text).toMatch(/^2031-0[67]-\d\dT\d\d:\d\d:56[+-]\d\d:\d\d$/);
    expect(Date.parse(text)).toBe(date.getTime());
  });
});
