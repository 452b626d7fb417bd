// api: the names of the calls → types of what each is given and gives.
import type { BoardMap } from "../board/board-schema.js";
import type { Course, MakeAttempt, Place, Placed } from "./attempts-schema.js";
import type { Draft, Library, SaveBoard, SavedBoard } from "./boards-schema.js";
import type { ChangeMany, Inbox, InboxFile } from "./inbox-schema.js";
import type { CompareAnswer, JobList, JobState, MakeJob, Say, SayAnswer } from "./jobs-schema.js";
import type { JobFile, MakeReport } from "./report-schema.js";
import type { Task } from "./task-schema.js";
import type { StartWatch, WatchState } from "./watch-schema.js";

type Of<Request, Answer> = { readonly request: Request; readonly answer: Answer };
/** Every request names its job by its id. */
type Job = { readonly job: string };
type Dropped = Job & { readonly sha256: string };
type Numbered = Job & { readonly number: number };
type Done = { readonly done: true };

/** What each call is given and gives. */
export interface Calls {
  listJobs: Of<object, JobList>;
  makeJob: Of<{ body: MakeJob }, { job: string }>;
  makeSample: Of<object, { job: string; task: Task }>;
  jobState: Of<Job, JobState>;
  say: Of<Job & { body: Say }, SayAnswer>;
  compare: Of<Job & { before: number; after: number; healthy?: "yes" | "no" }, CompareAnswer>;

  inbox: Of<Job, Inbox>;
  /** One file. It is on the disk when the answer comes; up to four at a time make sense. */
  addToInbox: Of<
    Job & { name: string; bytes: Blob | ArrayBuffer | Uint8Array<ArrayBuffer> },
    { file: InboxFile }
  >;
  /** Several small files, as `packFiles` puts them together; all of them are on the disk when the answer comes, or
   *  none. */
  addManyToInbox: Of<Job & { bytes: Blob }, Done>;
  changeInbox: Of<Job & { body: ChangeMany }, Inbox>;
  removeFromInbox: Of<Dropped, Done>;
  /** For `decodePictures`: one layer, `frame`. */
  inboxFrame: Of<Dropped, ArrayBuffer>;
  /** The file as it was dropped, such as a board map or a view. */
  inboxFile: Of<Dropped, ArrayBuffer>;
  /** A JPEG of at most 4096 px each way, turned upright. */
  inboxPhoto: Of<Dropped, ArrayBuffer>;

  place: Of<Job & { body: Place }, Placed>;
  /** What an attempt is going to be made of: analysed now, so that its answer is there when it is made of the very
   *  same. */
  analyseAhead: Of<Job & { body: MakeAttempt }, Done>;
  makeAttempt: Of<Job & { body: MakeAttempt }, { task: Task }>;
  /** For `decodePictures`. */
  pictures: Of<Numbered & { view?: number }, ArrayBuffer>;
  course: Of<Numbered & { view?: number; x: number; y: number; radius?: number }, Course>;
  /** A name of `attempt.files`: overlay.png, report.html, findings.json, … */
  attemptFile: Of<Numbered & { file: string }, ArrayBuffer>;

  library: Of<object, Library>;
  board: Of<Dropped, { map: BoardMap }>;
  saveBoard: Of<Job & { body: SaveBoard }, SavedBoard>;
  /** `draft: null` where there is none. */
  draft: Of<Job & { name: string }, Draft>;
  saveDraft: Of<Job & { name: string; body: Draft }, Done>;
  removeDraft: Of<Job & { name: string }, Done>;

  makeReport: Of<Job & { body: MakeReport }, { task: Task }>;
  makePack: Of<Job, { task: Task }>;
  jobFile: Of<Job & { file: JobFile }, ArrayBuffer>;

  task: Of<{ task: string }, { task: Task }>;
  cancelTask: Of<{ task: string }, { task: Task }>;
  startWatch: Of<Job & { body: StartWatch }, WatchState>;
  stopWatch: Of<Job, WatchState>;
}
