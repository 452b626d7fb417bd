// serve: pieces of work on folders → one after the other in each folder; of some sorts many at a time.

/** Runs work on folders: one piece after the other in each of them. */
export class FolderTurns {
  readonly #turns = new Map<string, Promise<unknown>>();

  /** Do something when all that was asked before is done: nothing else here changes the folder meanwhile. */
  run<Out>(folder: string, work: () => Promise<Out>): Promise<Out> {
    const turn = (this.#turns.get(folder) ?? Promise.resolve()).then(work, work);
    const last: Promise<void> = turn
      .then(
        () => {},
        () => {},
      )
      .then(() => {
        // A bench that runs for months meets many folders: one in which nothing is waited for is forgotten.
        if (this.#turns.get(folder) === last) this.#turns.delete(folder);
      });
    this.#turns.set(folder, last);
    return turn;
  }
}

/** How much is gathered. */
export interface GatherOptions {
  /** How long the first waits for others, ms. */
  readonly waitMs: number;
  /** Largest number that is done in one turn. */
  readonly most: number;
}

interface Waiting<In, Out> {
  readonly item: In;
  readonly resolve: (out: Out) => void;
  readonly reject: (error: unknown) => void;
}

/** Gathers what is to be done in one folder: what has come by the time that its turn comes is done together. */
export class GatheredTurns<In, Out> {
  readonly #waiting = new Map<string, Waiting<In, Out>[]>();
  readonly #turns: FolderTurns;
  readonly #work: (folder: string, items: readonly In[]) => Promise<readonly Out[]>;
  readonly #options: GatherOptions;

  /** @param work on items of one folder in the order in which they came, which gives what came of each in that order;
   *  if it throws, all of them fail. */
  constructor(
    turns: FolderTurns,
    work: (folder: string, items: readonly In[]) => Promise<readonly Out[]>,
    options: GatherOptions,
  ) {
    this.#turns = turns;
    this.#work = work;
    this.#options = options;
  }

  /** Do it, with others. */
  run(folder: string, item: In): Promise<Out> {
    return new Promise((resolve, reject) => {
      const one = { item, resolve, reject };
      const waiting = this.#waiting.get(folder);
      if (waiting !== undefined) {
        waiting.push(one);
        return;
      }
      this.#waiting.set(folder, [one]);
      const { waitMs } = this.#options;
      if (waitMs === 0) this.#next(folder);
      else setTimeout(() => this.#next(folder), waitMs);
    });
  }

  #next(folder: string): void {
    void this.#turns.run(folder, async () => {
      const all = this.#waiting.get(folder)!;
      const now = all.splice(0, this.#options.most);
      if (all.length === 0) this.#waiting.delete(folder);
      else this.#next(folder);
      try {
        const outs = await this.#work(
          folder,
          now.map(({ item }) => item),
        );
        for (const [i, { resolve }] of now.entries()) resolve(outs[i]!);
      } catch (error) {
        for (const { reject } of now) reject(error);
      }
    });
  }
}
