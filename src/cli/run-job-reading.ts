// cli: the options of `job reading` → readings or references in the journal.

import { dropUndefined } from "../core/drop-undefined.js";
import type { Said } from "../job/entry-schema.js";
import { readGiven } from "../read/read-given.js";
import { readReason } from "../read/read-reason.js";
import { parseExpected } from "../readings/parse-expected.js";
import { parseReading } from "../readings/parse-reading.js";
import { parseReadingTable, TABLE_DEFAULTS } from "../readings/parse-reading-table.js";
import { MEASURES, type Measure } from "../readings/reading-schema.js";
import { visibleText } from "../report/visible-text.js";
import { appendSaid, type PlainSaid } from "../store/append-said.js";
import type { CommandOutput } from "./command-output.js";
import type { JobReadingWords } from "./job-words.js";
import { refuseWords } from "./refuse-words.js";
import { sayAdded } from "./say-outcome.js";

/** Keep a reading, a reference, or a table of them.
 *  @throws ToolError E_USAGE if it is not clear what was measured where; those of the readings and of `appendSaid`.
 */
export async function runJobReading(
  folder: string,
  words: JobReadingWords,
  output: CommandOutput,
): Promise<void> {
  const { said, assumed } =
    words.table === undefined ? readWords(words) : await readTable(words.table, words);
  const entries = await appendSaid(folder, said, { at: words.at });
  if (words.quiet !== true)
    for (const text of assumed) await output.remark(`Assumed: ${visibleText(text)}.\n`);
  await sayAdded(folder, entries, words, output);
}

interface Readings {
  readonly said: PlainSaid[];
  readonly assumed: readonly string[];
}

function readWords(words: JobReadingWords): Readings {
  const given = MEASURES.filter((measure) => words[measure] !== undefined);
  if (given.length === 0) {
    refuseWords(
      "nothing says what the meter showed",
      "Add --diode V, --resistance R, --voltage V or --current A",
    );
  }
  if (words.net === undefined && words.ref === undefined) {
    refuseWords("nothing says where it was measured", "Add --net NET, or --ref REF with --pin PIN");
  }
  if (words.pin !== undefined && words.ref === undefined) {
    refuseWords("--pin came without --ref, so nothing says whose pin it is", "Add --ref REF");
  }
  if (words.reference !== true && (words.lowByNature === true || words.source !== undefined)) {
    refuseWords("--low-by-nature and --source tell of a reference, but this is none", "Add --reference");
  }
  const read = given.map((measure) => readOne(measure, words[measure]!, words));
  return {
    said: read.map(({ said }) => said),
    assumed: read.flatMap(({ assumed }) => (assumed === null ? [] : [assumed])),
  };
}

function readOne(
  measure: Measure,
  raw: string,
  words: JobReadingWords,
): { said: PlainSaid; assumed: string | null } {
  const place = dropUndefined({
    board: words.board,
    net: words.net,
    ref: words.ref,
    pin: words.pin,
    remark: words.remark,
  });
  if (words.reference !== true) {
    const { assumed, ...value } = parseReading(raw, measure);
    return { said: { type: "reading", reading: { ...place, measure, raw, ...value } }, assumed };
  }
  const { assumed, ...value } = parseExpected(raw, measure);
  const reference = dropUndefined({ source: words.source, lowByNature: words.lowByNature });
  return {
    said: { type: "reference", reference: { ...place, measure, raw, ...value, ...reference } },
    assumed,
  };
}

async function readTable(file: string, words: JobReadingWords): Promise<Readings> {
  const alone = ["net", "ref", "pin", ...MEASURES] as const;
  if (alone.some((name) => words[name] !== undefined)) {
    refuseWords(
      "--table came with a reading, but a table brings its own places and values",
      "Keep one of the two",
    );
  }
  const bytes = await readGiven(file, TABLE_DEFAULTS.maxBytes).catch((error: unknown) =>
    refuseWords(
      `the table ${file} can't be read: ${readReason(error)}`,
      "Check the name and the permissions of the file",
    ),
  );
  const { references, readings, assumed } = parseReadingTable(bytes, file);
  const board = dropUndefined({ board: words.board });
  const common = { ...board, ...dropUndefined({ source: words.source }) };
  return {
    said: [
      ...readings.map((reading): Extract<Said, { type: "reading" }> => {
        return { type: "reading", reading: { ...board, ...reading } };
      }),
      ...references.map((reference): Extract<Said, { type: "reference" }> => {
        return { type: "reference", reference: { ...common, ...reference } };
      }),
    ],
    assumed,
  };
}
