// store: the request for an attempt → its frames, map, views and files, whole, in a folder beside the job.
import { basename, join } from "node:path";
import { parseView } from "../board/parse-view.js";
import type { Note } from "../core/notes.js";
import type { Analysis } from "../findings/analysis.js";
import type { Attempt, AttemptOptions, Conditions, KeptView } from "../job/attempt-schema.js";
import type { Job } from "../job/job.js";
import type { KnownHashes } from "../read/known-hashes.js";
import { listFrameFiles } from "../read/list-frame-files.js";
import { readJsonFile } from "../read/read-json-file.js";
import { momentText } from "../report/job-words.js";
import { renderOverlay } from "../report/render-overlay.js";
import { renderReport } from "../report/render-report.js";
import { serialiseFindings } from "../report/serialise-findings.js";
import type { AttemptRequest } from "./add-attempt.js";
import { type AttemptPlan, analyseAttempt } from "./analyse-attempt.js";
import type { Analysed } from "./analysis-memo.js";
import { chooseBoard } from "./choose-board.js";
import { boardName, pathIn, sha256Of, viewName } from "./job-paths.js";
import { keepFrames } from "./keep-frames.js";
import { attemptWithView, type PlacedFrom, placeFrom } from "./place-from.js";
import { readJobFile } from "./read-job-file.js";
import { shortenNames } from "./shorten-names.js";
import type { Storage } from "./storage.js";
import type { StoreOptions } from "./store-options.js";

/** What is said of an attempt where nothing is said. */
const NO_CONDITIONS: Conditions = Object.freeze({
  volts: null,
  amps: null,
  limitA: null,
  rail: null,
  connected: [],
  remark: null,
  healthy: false,
});
const NO_OPTIONS: AttemptOptions = Object.freeze({
  scale: null,
  unit: null,
  rateHz: null,
  cycleS: null,
  falseAlarmsPerFrame: null,
});

/** An attempt that is ready but for its number. */
export interface StagedAttempt {
  readonly plan: Omit<Attempt, "number">;
  readonly analysis: Analysis;
  readonly notes: readonly Note[];
}

/** Folder in which the files of an attempt are made ready. */
export const stagedFolder = (stage: string): string => join(stage, "attempt");

/** Copy, analyse and write.
 *  @param stage folder of this process alone, in the job's folder.
 */
export async function stageAttempt(
  folder: string,
  stage: string,
  job: Job,
  request: AttemptRequest,
  at: string,
  options: StoreOptions,
): Promise<StagedAttempt> {
  const { storage, toolVersion } = options;
  const { plan, analysed, notes } = await stageAnalysis(folder, stage, job, request, options);
  const files: Record<string, string> = {};
  for (const [name, bytes] of renderFiles(analysed, `${job.header.device}, attempt of ${momentText(at)}`)) {
    await storage.create(join(stagedFolder(stage), name), bytes);
    files[name] = sha256Of(bytes);
  }
  return {
    plan: {
      kind: "faultglow/attempt",
      version: 1,
      at,
      ...plan,
      tool: { name: "faultglow", version: toolVersion },
      files,
    },
    analysis: analysed.analysis,
    notes,
  };
}

/** Copy and analyse, and leave what comes of it in the memo. Small files first: a slip in them shows before a long
 *  burst is read. */
export async function stageAnalysis(
  folder: string,
  stage: string,
  job: Job,
  request: AttemptRequest,
  { storage, toolVersion, onFile, shelf, hashes, memo }: StoreOptions,
): Promise<{ plan: AttemptPlan; analysed: Analysed; notes: readonly Note[] }> {
  for (const name of ["boards", "views", "frames", "attempt"]) await storage.makeFolder(join(stage, name));
  const earlier = request.viewFrom === undefined ? null : attemptWithView(job, request.viewFrom);
  const word = request.board ?? earlier?.attempt.board?.name;
  const board =
    request.view === undefined && word === undefined
      ? null
      : await chooseBoard(word, job.boards, (sha256) =>
          readJobFile(folder, boardName(sha256), sha256, storage),
        );
  if (board !== null) await storage.create(pathIn(stage, boardName(board.sha256)), board.bytes);
  const primary =
    earlier === null
      ? await stageView(request.view, stage, storage)
      : await stagePlaced(
          await placeFrom(folder, earlier, request.baseline, { ...NO_OPTIONS, ...request.options }),
          earlier.attempt.number,
          stage,
          storage,
        );
  const hasOther = request.otherBaseline !== undefined && request.otherPowered !== undefined;
  const other = hasOther ? await stageView(request.otherView, stage, storage) : null;
  const { frames, notes } = await stageFrames(request, stage, storage, hashes);
  const views: KeptView[] = [{ baseline: frames[0]!, powered: frames[1]!, view: primary.kept }];
  if (other !== null) views.push({ baseline: frames[2]!, powered: frames[3]!, view: other.kept });
  const plan = {
    board: board === null ? null : { name: board.name, sha256: board.sha256, file: board.file },
    views,
    conditions: { ...NO_CONDITIONS, ...request.conditions },
    options: { ...NO_OPTIONS, ...request.options },
  };
  const values = other === null ? [primary.value] : [primary.value, other.value];
  const analyse = async (): Promise<Analysed> =>
    drawOverlays(
      await analyseAttempt(plan, stage, board?.value ?? null, values, { toolVersion, onFile, shelf }),
    );
  const analysed = memo?.find(plan, toolVersion) ?? (await analyse());
  memo?.keep(plan, toolVersion, analysed);
  return { plan, analysed, notes: [...(board?.notes ?? []), ...notes] };
}

async function stageView(file: string | undefined, stage: string, storage: Storage) {
  if (file === undefined) return { kept: null, value: null };
  const { value, sha256, bytes } = await readJsonFile(file);
  const { view } = parseView(value, file);
  // Both views may be one file, for two camera frames of one position.
  await storage.remove(pathIn(stage, viewName(sha256)));
  await storage.create(pathIn(stage, viewName(sha256)), bytes);
  return { kept: { sha256, file: basename(file), side: view.side }, value };
}

async function stagePlaced({ view, sigmaMm }: PlacedFrom, attempt: number, stage: string, storage: Storage) {
  const bytes = new TextEncoder().encode(`${JSON.stringify(view, null, 2)}\n`);
  const sha256 = sha256Of(bytes);
  await storage.create(pathIn(stage, viewName(sha256)), bytes);
  const file = `placed-by-attempt-${attempt}.json`;
  return { kept: { sha256, file, side: view.side, placed: { attempt, sigmaMm } }, value: view };
}

/** Copy the frames of all roles, named so that they can be told apart. */
async function stageFrames(
  request: AttemptRequest,
  stage: string,
  storage: Storage,
  hashes: KnownHashes | undefined,
) {
  const roles = [request.baseline, request.powered, request.otherBaseline, request.otherPowered];
  const lists: string[][] = [];
  const notes: Note[] = [];
  for (const patterns of roles) {
    const found = patterns === undefined ? { files: [], notes: [] } : await listFrameFiles(patterns);
    lists.push(found.files);
    notes.push(...found.notes);
  }
  const names = shortenNames(lists.flat());
  let at = 0;
  const kept = [];
  for (const files of lists) {
    const own = request.areOwn === true ? { hashes } : null;
    kept.push(await keepFrames(files, names.slice(at, at + files.length), stage, storage, own));
    at += files.length;
  }
  return { frames: kept, notes };
}

async function drawOverlays(analysis: Analysis): Promise<Analysed> {
  return {
    analysis,
    overlayPng: await renderOverlay(analysis),
    otherOverlayPng: analysis.other ? await renderOverlay(analysis, "other") : undefined,
  };
}

function renderFiles(
  { analysis, overlayPng, otherOverlayPng }: Analysed,
  subtitle: string,
): Map<string, Uint8Array> {
  const text = new TextEncoder();
  const report = renderReport(analysis, overlayPng, { subtitle, otherOverlayPng });
  const files = new Map<string, Uint8Array>();
  files.set("findings.json", text.encode(serialiseFindings(analysis.findings)));
  files.set("overlay.png", overlayPng);
  if (otherOverlayPng !== undefined) files.set("overlay-other.png", otherOverlayPng);
  files.set("report.html", text.encode(report));
  return files;
}
