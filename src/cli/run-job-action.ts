// cli: the options of `job action` → what was done, in the journal.
import { ToolError } from "../core/errors.js";
import type { Action, Deed } from "../job/entry-schema.js";
import { appendSaid } from "../store/append-said.js";
import type { CommandOutput } from "./command-output.js";
import type { JobActionWords } from "./job-words.js";
import { sayAdded } from "./say-outcome.js";

/** Keep what was done; several parts are several lines.
 *  @throws ToolError E_USAGE if nothing is said to be done; those of `appendSaid`.
 */
export async function runJobAction(
  folder: string,
  words: JobActionWords,
  output: CommandOutput,
): Promise<void> {
  const actions = actionsOf(words);
  if (actions.length === 0) {
    throw new ToolError("E_USAGE", {
      problem: "nothing says what was done",
      fix: "Add for example --replaced C6, or --other with --remark",
    });
  }
  const entries = await appendSaid(
    folder,
    actions.map((action) => ({ type: "action", action })),
    { at: words.at },
  );
  await sayAdded(folder, entries, words, output);
}

function actionsOf(words: JobActionWords): Action[] {
  const done: [Deed, readonly string[] | true | undefined][] = [
    ["boards-split", words.boardsSplit],
    ["shield-off", words.shieldOff],
    ["lifted", words.lifted],
    ["replaced", words.replaced],
    ["reflowed", words.reflowed],
    ["cleaned", words.cleaned],
    ["other", words.other],
    ["shield-on", words.shieldOn],
    ["boards-joined", words.boardsJoined],
  ];
  if (words.other !== undefined && words.remark === undefined) {
    throw new ToolError("E_USAGE", {
      problem: "--other came without --remark, so nothing says what was done",
      fix: "Add --remark TEXT",
    });
  }
  const common = {
    ...(words.board === undefined ? {} : { board: words.board }),
    ...(words.remark === undefined ? {} : { remark: words.remark }),
  };
  return done.flatMap(([did, refs]): Action[] => {
    if (refs === undefined) return [];
    return refs === true ? [{ did, ...common }] : refs.map((ref) => ({ did, ref, ...common }));
  });
}
