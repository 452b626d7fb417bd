// fuzz: a valid value of every kind of JSON file → the same written otherwise, with values changed, with bytes changed.
import { checkBoard } from "../../../src/board/check-board.js";
import { parseBoardMap } from "../../../src/board/parse-board-map.js";
import { parseView } from "../../../src/board/parse-view.js";
import { placeView } from "../../../src/board/place-view.js";
import { parseProfile } from "../../../src/compare/parse-profile.js";
import { ToolError } from "../../../src/core/errors.js";
import { parseFindings } from "../../../src/findings/parse-findings.js";
import { readScaleObject } from "../../../src/frames/scale-schema.js";
import { attemptSchema } from "../../../src/job/attempt-schema.js";
import { ATTEMPT_KIND, JOB_KIND } from "../../../src/job/job-kinds.js";
import { jobSchema } from "../../../src/job/job-schema.js";
import { parseJournal } from "../../../src/job/parse-journal.js";
import { parseKind } from "../../../src/job/parse-kind.js";
import { readDraft } from "../../../src/page/draw/model/draft.js";
import { mapOf, viewOf } from "../../../src/page/draw/model/drawing.js";
import { parseJsonBytes } from "../../../src/read/read-json-file.js";
import { parseBenchSettings } from "../../../src/serve/bench-settings.js";
import { parseDraft } from "../../../src/serve/draft-files.js";
import { parseAbout } from "../../../src/serve/dropped-about.js";
import { sha256Of } from "../../../src/store/job-paths.js";
import { parseOwner } from "../../../src/store/process-owner.js";
import { type FuzzTarget, plain, type TargetEntry } from "../fuzz-target.js";
import { mutateBytes } from "../mutate-bytes.js";
import { changeJson, writeJson } from "./change-json.js";
import {
  ATTEMPT,
  BOARD,
  DRAFT,
  DRAWING,
  DROPPED,
  ENTRIES,
  FINDINGS,
  HEADER,
  LOCK,
  PROFILE,
  SCALES,
  SETTINGS,
  VIEW,
} from "./json-samples.js";
import { REQUESTS, readRequest } from "./request-bodies.js";

interface Kind {
  readonly name: string;
  readonly samples: readonly unknown[];
  /** As the tool reads it. */
  readonly read: (bytes: Uint8Array) => unknown;
}

const FILE = "f.json";
const sha256 = (text: string): string => sha256Of(new TextEncoder().encode(text));
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);
const FIRST = "0".repeat(64);

const KINDS: readonly Kind[] = [
  {
    name: "board",
    samples: [BOARD],
    read: (bytes) => parseBoardMap(parseJsonBytes(bytes, FILE), FILE).board,
  },
  {
    name: "view",
    samples: [VIEW],
    read: (bytes) => {
      const { view } = parseView(parseJsonBytes(bytes, FILE), FILE);
      placeView(view, { file: FILE });
      return view;
    },
  },
  {
    name: "scale",
    samples: SCALES,
    read: (bytes) => readScaleObject(parseJsonBytes(bytes, FILE), { file: FILE }),
  },
  {
    name: "findings",
    samples: FINDINGS,
    read: (bytes) => parseFindings(parseJsonBytes(bytes, FILE), FILE).findings,
  },
  {
    name: "profile",
    samples: [PROFILE],
    read: (bytes) => parseProfile(parseJsonBytes(bytes, FILE), FILE).profile,
  },
  { name: "job", samples: [HEADER], read: (bytes) => parseKind(text(bytes), JOB_KIND, jobSchema, FILE) },
  {
    name: "attempt",
    samples: [ATTEMPT],
    read: (bytes) => parseKind(text(bytes), ATTEMPT_KIND, attemptSchema, FILE),
  },
  {
    name: "entry",
    samples: ENTRIES,
    read: (bytes) => {
      const line = Buffer.concat([bytes, Buffer.from("\n")]);
      return parseJournal(line, FIRST, { sha256, file: "journal.jsonl" }).entries[0];
    },
  },
  { name: "lock", samples: [LOCK], read: (bytes) => parseOwner(bytes) },
  {
    name: "settings",
    samples: SETTINGS,
    read: (bytes) => parseBenchSettings(text(bytes), FILE) ?? leftOut(),
  },
  {
    name: "draft",
    samples: [DRAFT],
    read: (bytes) => ({ ...DRAFT, draft: parseDraft(text(bytes), FILE) ?? leftOut() }),
  },
  { name: "dropped", samples: [DROPPED], read: (bytes) => parseAbout(text(bytes), FILE) ?? leftOut() },
  {
    name: "drawing",
    samples: [DRAWING],
    read: (bytes) => {
      const draft = readDraft(parseJsonBytes(bytes, FILE)) ?? leftOut();
      // What is taken up can be shown, judged and saved.
      checkBoard(mapOf(draft.drawing));
      for (const picture of Object.keys(draft.drawing.placements)) viewOf(draft.drawing, picture);
      return draft;
    },
  },
];
/** What the page sends is no file, but comes from outside too. */
const REQUEST: Kind = { name: "request", samples: REQUESTS, read: readRequest };

/** What is left out without a word counts as refused. */
function leftOut(): never {
  throw new ToolError("E_JOB_KIND", { problem: "it is left out", fix: "None is needed" });
}

/** A target for every kind of JSON that is read. */
export const jsonFiles: readonly TargetEntry[] = [...KINDS, REQUEST].map((kind) => plain(targetOf(kind)));

function targetOf({ name, samples, read }: Kind): FuzzTarget {
  // Text, bytes and value of each sample are the same for every input.
  const whole = samples.map((sample) => {
    const json = JSON.stringify(sample);
    return { sample, json, bytes: bytesOf(json), value: read(bytesOf(json)) };
  });
  return {
    name,
    make: (random) => {
      const { sample, json, bytes: plainly, value } = random.pick(whole);
      const turn = random.integer(0, 3);
      if (turn === 0) {
        // A line of the journal can't be broken, and of those only whole ones count.
        const bytes = bytesOf(writeJson(random, sample, name !== "entry"));
        return { what: "written otherwise", bytes, expected: { sort: "equal", value } };
      }
      if (turn === 1) {
        return {
          what: "bytes changed",
          bytes: mutateBytes(random, plainly),
          expected: { sort: "any" },
        };
      }
      return {
        what: "values changed",
        bytes: bytesOf(changeJson(random, json)),
        expected: { sort: "any" },
      };
    },
    read: (bytes) => sameAgain(read(bytes), read),
  };
}

/** What was read is written and read again: the same comes out, so that no file can say one thing now and another
 *  later. */
function sameAgain(value: unknown, read: (bytes: Uint8Array) => unknown): unknown {
  if (value === undefined || value === null) return value;
  const once = JSON.stringify(value);
  // A scale is read into a form of its own, which is no file.
  if ((value as { kind?: unknown }).kind === undefined) return value;
  const twice = JSON.stringify(read(bytesOf(once)));
  if (once !== twice)
    throw new Error(`written and read again it is another: ${once.slice(0, 200)} → ${twice.slice(0, 200)}`);
  return value;
}

function bytesOf(json: string): Uint8Array {
  return new TextEncoder().encode(json);
}

/** For the tests of single hostile files. */
export const readersOfJson: ReadonlyMap<
  string,
  { readonly sample: unknown; readonly read: (bytes: Uint8Array) => unknown }
> = new Map(KINDS.map(({ name, samples, read }) => [name, { sample: samples[0], read }]));
