// serve: what an attempt is most probably going to be made of → analysed before anybody asks, so that the answer is
// there then.
import type { MakeAttempt } from "../api/attempts-schema.js";
import type { InboxFolder } from "./inbox-folder.js";
import { takeFrames } from "./take-frames.js";
import type { WorkProcess } from "./work-process.js";

/** A longer burst would keep other work waiting for something that may not be wanted. */
const MOST_FRAMES = 400;

/** An analysis that was begun ahead. */
interface Ahead {
  readonly key: string;
  readonly giveUp: AbortController;
  /** It is being worked on; before that it waits for other work. */
  isRunning: boolean;
  isOver: boolean;
}

/** Analyses ahead, one at a time. What comes of it waits in the process that makes attempts, and is used only for an
 *  attempt of the very same frames and words (`AnalysisMemo`): here nothing is decided, so nothing can be wrong. */
export class AttemptsAhead {
  readonly #quick: WorkProcess;
  readonly #long: WorkProcess;
  readonly #inbox: InboxFolder;
  #last: Ahead | null = null;

  constructor(options: { quick: WorkProcess; long: WorkProcess; inbox: InboxFolder }) {
    this.#quick = options.quick;
    this.#long = options.long;
    this.#inbox = options.inbox;
  }

  /** Begin, unless that has been done. What was to be analysed before this and has not begun is left out. */
  begin(folder: string, wanted: MakeAttempt): void {
    const key = keyOf(folder, wanted);
    if (this.#last?.key === key || framesOf(wanted) > MOST_FRAMES) return;
    this.#dropWaiting();
    const ahead: Ahead = { key, giveUp: new AbortController(), isRunning: false, isOver: false };
    this.#last = ahead;
    // Whatever is wrong with it is told when the attempt is made.
    this.#analyse(folder, wanted, ahead)
      .catch(() => {})
      .finally(() => {
        ahead.isOver = true;
      });
  }

  /** Make way for an attempt. @returns true if what it is made of is being analysed right now. */
  giveWay(folder: string, wanted: MakeAttempt): boolean {
    const last = this.#last;
    // Once an attempt was made, its frames are gone from the process.
    this.#last = null;
    if (last === null || last.isOver) return false;
    if (!last.isRunning) last.giveUp.abort();
    return last.isRunning && last.key === keyOf(folder, wanted);
  }

  #dropWaiting(): void {
    const last = this.#last;
    // To end what is being worked on would end its process, with all frames that it keeps.
    if (last !== null && !last.isRunning) last.giveUp.abort();
  }

  async #analyse(folder: string, wanted: MakeAttempt, ahead: Ahead): Promise<void> {
    const { signal } = ahead.giveUp;
    const { request, release } = await takeFrames(folder, wanted, this.#inbox);
    try {
      if (signal.aborted) return;
      this.#long.takeReaderOf(this.#quick);
      await this.#long.run(
        "ahead",
        { folder, request },
        {
          signal,
          onStart: () => {
            ahead.isRunning = true;
          },
        },
      );
    } finally {
      await release();
    }
  }
}

/** What the analysis depends on, as it was asked for. */
function keyOf(folder: string, wanted: MakeAttempt): string {
  const { baseline, powered, view, board, other, options, conditions } = wanted;
  const { volts, amps } = conditions ?? {};
  return JSON.stringify([folder, baseline, powered, view, board, other, options, volts, amps]);
}

function framesOf({ baseline, powered, other }: MakeAttempt): number {
  return [baseline, powered, other?.baseline, other?.powered].reduce(
    (sum, one) => sum + (one?.length ?? 0),
    0,
  );
}
