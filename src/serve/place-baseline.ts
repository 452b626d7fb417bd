// serve: a baseline that was dropped and earlier attempts → where it shows the board, by the first attempt that is
// trusted.
import type { Placed } from "../api/attempts-schema.js";
import { meanFrame } from "../clean/mean-frame.js";
import { ToolError } from "../core/errors.js";
import { finiteOrNull } from "../core/finite-or-null.js";
import type { JobAttempt } from "../job/job.js";
import { placeNewView } from "../place/place-new-view.js";
import { requireTrusted } from "../place/require-trusted.js";
import { readFrameSources } from "../read/read-frames.js";
import { frameName, pathIn } from "../store/job-paths.js";
import { openJob } from "../store/open-job.js";
import type { DoWork } from "./works.js";

/** Place a baseline. What is not trusted is given with its reason: a person may still take it as a start. */
export const placeBaseline: DoWork<"place"> = async ({ frame, by }, { say }) => {
  const later = meanFrame((await readFrameSources([frame])).frames);
  let best: Placed = { ...NOWHERE };
  for (const [i, one] of by.entries()) {
    say({ text: `Placing by attempt ${one.attempt}`, done: i, total: by.length });
    const job = await openJob(one.folder);
    const attempt = job.attempts.find((each) => each.attempt.number === one.attempt);
    const view = attempt?.views[one.view];
    if (attempt === undefined || attempt.board === null || view === undefined || view === null) continue;
    const earlier = await meanBaseline(one.folder, attempt, one.view);
    const found = placeNewView({ frame: earlier, view }, later, attempt.board);
    const placed: Placed = {
      view: found.view,
      trusted: found.trusted,
      reason: found.trusted ? null : reasonOf(() => requireTrusted(found)),
      sigmaPx: finiteOrNull(found.sigmaPx),
      sigmaMm: finiteOrNull(found.sigmaMm),
      by: { job: one.job, attempt: one.attempt, view: one.view },
    };
    if (placed.trusted) return placed;
    if (best.view === null) best = placed;
  }
  return best;
};

const NOWHERE: Placed = Object.freeze({
  view: null,
  trusted: false,
  reason: "no earlier attempt shows this board with a view",
  sigmaPx: null,
  sigmaMm: null,
  by: null,
});

async function meanBaseline(folder: string, { attempt }: JobAttempt, view: number) {
  const { scale, unit } = attempt.options;
  const sources = attempt.views[view]!.baseline.map((kept) => ({
    path: pathIn(folder, frameName(kept)),
    name: kept.name,
    beside: kept.scaleBeside ?? null,
  }));
  const { frames } = await readFrameSources(sources, { scale: scale ?? undefined, unit: unit ?? undefined });
  return meanFrame(frames);
}

function reasonOf(take: () => unknown): string | null {
  try {
    take();
    return null;
  } catch (error) {
    if (!(error instanceof ToolError)) throw error;
    return error.parts.problem;
  }
}
