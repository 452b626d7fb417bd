// cli: the ends of the parts of a run, by a clock → how long each part took.

/** Adds up the time of each part of a run. */
export interface StageTimer {
  /** Say that a part has just ended: all time since the last end was its. */
  readonly ended: (stage: string) => void;
  /** A line for each part in the order in which they first ended, and one for the whole. */
  readonly lines: () => string;
}

/** Start a timer.
 *  @param clock milliseconds since the run began.
 */
export function stageTimer(clock: () => number): StageTimer {
  const spentMs = new Map<string, number>();
  let last = 0;
  return {
    ended: (stage) => {
      const now = clock();
      spentMs.set(stage, (spentMs.get(stage) ?? 0) + now - last);
      last = now;
    },
    lines: () => {
      const rows = [...spentMs, ["all", last] as const];
      const width = Math.max(...rows.map(([stage]) => stage.length));
      return rows.map(([stage, ms]) => `${stage.padEnd(width)} ${ms.toFixed(1).padStart(8)} ms\n`).join("");
    },
  };
}
