// serve: what is worked out beside the server → the names of such work, what each is given and gives.
import type { ErrorWords } from "../api/answer-error-schema.js";
import type { Course, Placed } from "../api/attempts-schema.js";
import type { InboxFile } from "../api/inbox-schema.js";
import type { Scale } from "../frames/scale.js";
import type { TemperatureUnit } from "../frames/temperature-unit.js";
import type { Audience } from "../report/job-report-model.js";
import type { AttemptRequest } from "../store/add-attempt.js";

/** A file of the inbox as the work sees it. */
export interface DroppedFile {
  readonly path: string;
  /** As it was dropped, with its folders. */
  readonly name: string;
  /** Scale that goes with it, and where it is from; null: none but what the file itself holds. */
  readonly beside: { readonly from: string; readonly scale: Scale } | null;
  /** Hash of its bytes as they came, and the file's stamp then; absent: it came before the server was started. */
  readonly received?: { readonly sha256: string; readonly stamp: string } | undefined;
}

/** What reading a dropped file gives. */
type ReadDropped = Pick<InboxFile, "sort" | "frame" | "notes" | "error">;

/** A frame to be placed, and the attempts to place it by, the first choice first. */
interface PlaceWork {
  readonly frame: DroppedFile;
  readonly by: readonly {
    /** Folder and id of its job. */
    readonly folder: string;
    readonly job: string;
    readonly attempt: number;
    readonly view: number;
  }[];
}

interface AttemptOf {
  readonly folder: string;
  readonly number: number;
  readonly view: number;
}

/** All work: paths are the server's own, never words of a request. */
export interface Works {
  /** Nothing but having the process up, with what reading needs loaded. */
  ready: { input: null; output: null };
  readDropped: { input: DroppedFile; output: ReadDropped };
  /** A block of pictures with the layer `frame`. */
  droppedFrame: { input: DroppedFile; output: Uint8Array };
  /** A file of a watched folder; like the `ReadOutcome` of the watch, with its fault in words. */
  readWatched: {
    input: { readonly path: string; readonly scale: Scale | null; readonly unit: TemperatureUnit | null };
    output:
      | { readonly sha256: string; readonly width: number; readonly height: number }
      | { readonly sha256: string | null; readonly words: ErrorWords };
  };
  droppedPhoto: { input: { readonly path: string }; output: Uint8Array };
  place: { input: PlaceWork; output: Placed };
  pictures: { input: AttemptOf & { readonly cache: string }; output: Uint8Array };
  course: {
    input: AttemptOf & { readonly x: number; readonly y: number; readonly radius: number };
    output: Course;
  };
  attempt: {
    input: { readonly folder: string; readonly request: AttemptRequest };
    output: { readonly number: number };
  };
  /** Analyses what an attempt is going to be made of; what comes of it waits in the process. */
  ahead: { input: Works["attempt"]["input"]; output: null };
  sample: { input: { readonly folder: string }; output: { readonly number: number } };
  report: { input: { readonly folder: string; readonly audience: Audience }; output: null };
  pack: {
    input: { readonly folder: string; readonly file: string };
    output: { readonly noReport: string | null };
  };
}
export type WorkName = keyof Works;

/** How far a piece of work is. */
export interface WorkProgress {
  readonly text: string;
  readonly done: number;
  readonly total: number | null;
}

/** Does a piece of work; `say` tells how far it is. */
export type DoWork<Name extends WorkName> = (
  input: Works[Name]["input"],
  options: { readonly toolVersion: string; readonly say: (progress: WorkProgress) => void },
) => Promise<Works[Name]["output"]>;
