// serve: files of an inbox → the same files under their own names and in the order wanted, for an attempt to be made
// of.
import { randomUUID } from "node:crypto";
import { copyFile, link, mkdir, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { MakeAttempt } from "../api/attempts-schema.js";
import type { View } from "../board/board-schema.js";
import { dropUndefined } from "../core/drop-undefined.js";
import { compareNatural } from "../read/compare-natural.js";
import type { AttemptRequest } from "../store/add-attempt.js";
import { INBOX, TAKING } from "./dropped-about.js";
import { fileNameOf } from "./dropped-name.js";
import type { InboxFolder } from "./inbox-folder.js";

/** Lay the frames of an attempt out in a folder of their own.
 *  @returns the request for `addAttempt`, and a function that removes the folder.
 *  @throws ToolError E_BENCH_NONE if a frame is not in the inbox; the system's errors. */
export async function takeFrames(
  folder: string,
  wanted: MakeAttempt,
  inbox: InboxFolder,
): Promise<{ request: AttemptRequest; release: () => Promise<void> }> {
  const stage = join(folder, INBOX, `${TAKING}${randomUUID()}`);
  const release = (): Promise<void> => rm(stage, { recursive: true, force: true });
  const lay = (name: string, frames: readonly string[]) => layOut(join(stage, name), folder, frames, inbox);
  try {
    const { board, options, conditions, at, other } = wanted;
    const request: AttemptRequest = {
      baseline: await lay("baseline", wanted.baseline),
      powered: await lay("powered", wanted.powered),
      areOwn: true,
      view: wanted.view === undefined ? undefined : await layView(stage, "view", wanted.view),
      ...(other === undefined
        ? {}
        : {
            otherBaseline: await lay("other-baseline", other.baseline),
            otherPowered: await lay("other-powered", other.powered),
            otherView: await layView(stage, "other-view", other.view),
          }),
      board,
      options: dropUndefined(options ?? {}),
      conditions: dropUndefined(conditions ?? {}),
      at,
    };
    return { request, release };
  } catch (error) {
    await release();
    throw error;
  }
}

/** Frames are read in the natural order of their names; where another one is wanted, or two have one name, numbers go
 *  before the names. */
async function layOut(
  stage: string,
  folder: string,
  frames: readonly string[],
  inbox: InboxFolder,
): Promise<string[]> {
  await mkdir(stage, { recursive: true });
  const dropped = await inbox.droppedAll(folder, frames);
  const names = dropped.map(({ name }) => fileNameOf(name));
  const inOrder = names.every((name, i) => i === 0 || compareNatural(names[i - 1]!, name) < 0);
  const paths: string[] = [];
  for (const [i, { path, beside }] of dropped.entries()) {
    const number = inOrder ? "" : `${String(i + 1).padStart(4, "0")}-`;
    const target = join(stage, `${number}${names[i]}`);
    await link(path, target).catch(() => copyFile(path, target));
    if (beside !== null) {
      const scale = { kind: "faultglow/scale", version: 1, ...beside.scale };
      await writeFile(`${target}.json`, `${JSON.stringify(scale, null, 2)}\n`);
    }
    paths.push(target);
  }
  return paths;
}

async function layView(stage: string, name: string, view: View): Promise<string> {
  const file = join(stage, `${name}-${view.side}.json`);
  await writeFile(file, `${JSON.stringify(view, null, 2)}\n`);
  return file;
}
