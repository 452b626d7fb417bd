import { describe, expect, it } from "vitest";
import type { Task } from "../../../../src/api/task-schema.js";
import { isGoing, noteTask, tasksOf } from "../../../../src/page/state/tasks.js";

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
