// store: a board map → a board of the job before any attempt, or the correction of one that it has.
import { parseBoardMap } from "../board/parse-board-map.js";
import { ToolError } from "../core/errors.js";
import type { Note } from "../core/notes.js";
import { momentOf } from "../job/moment-of.js";
import { withdrawnSeqs } from "../job/replay-journal.js";
import { boardName, pathIn, sha256Of } from "./job-paths.js";
import { lockJob } from "./lock-job.js";
import { readJournal } from "./read-journal.js";
import { withStage } from "./stage.js";
import { wordErrors } from "./store-error.js";
import { STORE_DEFAULTS, type StoreOptions } from "./store-options.js";
import { recoverJob, writeJournal } from "./write-journal.js";

/** A board that was added. */
export interface AddedBoard {
  /** Line of the journal; of the line that said so before, if the job had this very map as the newest of its name. */
  readonly seq: number;
  readonly name: string;
  readonly sha256: string;
  readonly notes: readonly Note[];
}

/** Add a map. It gets its name from itself; one that has none gets the name given.
 *  @param value parsed JSON, not yet a map.
 *  @param otherwise name of a map that has none.
 *  @throws ToolError E_JOB_LOCKED, E_JOB_WRITE, those of `parseBoardMap` and `readJournal`.
 */
export async function addBoard(
  folder: string,
  value: unknown,
  otherwise: string,
  options: Partial<StoreOptions> = {},
): Promise<AddedBoard> {
  const o = { ...STORE_DEFAULTS, ...options };
  const { board, notes } = parseBoardMap(value, "the map");
  const given = board.name?.trim() ?? "";
  const name = given === "" ? otherwise : given;
  if (!/\S/.test(name)) {
    throw new ToolError("E_JOB_BOARD", {
      problem: "expected a map with a name, found one without",
      fix: "Give the board a name, such as that of the device",
    });
  }
  const bytes = new TextEncoder().encode(`${JSON.stringify({ ...board, name }, null, 2)}\n`);
  const sha256 = sha256Of(bytes);
  return wordErrors(folder, async () => {
    await readJournal(folder, o.storage);
    return withStage(folder, o, (stage) =>
      lockJob(folder, o, async () => {
        const { journal } = await readJournal(folder, o.storage);
        await recoverJob(folder, journal, o.storage);
        const gone = withdrawnSeqs(journal.entries);
        const newest = journal.entries.findLast(
          ({ seq, said }) => said.type === "board" && said.name === name && !gone.has(seq),
        );
        if (newest?.said.type === "board" && newest.said.sha256 === sha256)
          return { seq: newest.seq, name, sha256, notes };
        await o.storage.create(pathIn(stage, "board.json"), bytes);
        await o.storage.makeFolder(pathIn(folder, "boards"));
        await o.storage.rename(pathIn(stage, "board.json"), pathIn(folder, boardName(sha256)));
        const file = `${name.replace(/[^\p{L}\p{N}._-]+/gu, "-")}.json`;
        const said = { type: "board" as const, name, file, sha256 };
        const [entry] = await writeJournal(folder, journal, [said], momentOf(o.now()), o.storage);
        return { seq: entry!.seq, name, sha256, notes };
      }),
    );
  });
}
