import { afterEach, describe, expect, it, vi } from "vitest";
import type { Task } from "../../../../src/api/task-schema.js";
import { said } from "../../../../src/page/state/announce.js";
import { route, type Section } from "../../../../src/page/state/route.js";
import { followTask, isGoing, noteTask, tasksOf } from "../../../../src/page/state/tasks.js";

const RUNNING: Task = {
  id: "01234567-89ab-cdef-0123-456789abcdef",
  kind: "sample",
  job: "0061b609fc92562c",
  state: "running",
  text: "Beginning",
  done: 0,
  total: null,
  error: null,
  attempt: null,
  files: [],
};

describe("noteTask", () => {
  it("keeps a task at its end though an older answer comes after it", () => {
    noteTask(RUNNING);
    expect(tasksOf(RUNNING.job).filter(isGoing)).toHaveLength(1);
    noteTask({ ...RUNNING, state: "cancelled", text: "Stopped" });
    noteTask(RUNNING);
    expect(tasksOf(RUNNING.job)).toEqual([{ ...RUNNING, state: "cancelled", text: "Stopped" }]);
  });
});

describe("an attempt that this page began", () => {
  afterEach(() => vi.unstubAllGlobals());

  it.each<[Section, boolean]>([
    ["frames", true],
    ["answer", true],
    ["attempts", true],
    // Where something may be half typed or half drawn, it is only told of.
    ["board", false],
    ["readings", false],
    ["report", false],
  ])("is gone to from %s: %s", (section, isGoneTo) => {
    vi.stubGlobal("location", { hash: "" });
    vi.stubGlobal("fetch", () => new Promise(() => {}));
    route.value = { page: "job", job: RUNNING.job, section, attempt: null };
    const task: Task = { ...RUNNING, id: `attempt from ${section}`, kind: "attempt" };
    followTask(task);
    noteTask({ ...task, state: "done", attempt: 3 });
    expect(location.hash).toBe(isGoneTo ? `#/jobs/${RUNNING.job}/answer/3` : "");
    expect(said.value.text).toBe("Attempt 3 is analysed.");
  });
});
