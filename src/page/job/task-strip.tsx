// page: long work → how far it is, and a way to stop it.
import { isGoing, stopTask, tasksOf } from "../state/tasks.js";
import { sending, stopSending } from "../state/uploads.js";

const KIND_WORDS = { sample: "Sample job", attempt: "Attempt", report: "Report", pack: "Zip" } as const;

/** What is being done for a job. */
export function TaskStrip({ job }: { readonly job: string }) {
  const going = tasksOf(job).filter(isGoing);
  const files = sending.value;
  if (going.length === 0 && files === null) return null;
  return (
    <div class="task-strip">
      {files !== null && (
        <div class="task">
          <label>
            Sending files <progress value={files.done} max={files.total} />
          </label>
          <span>
            {files.done} of {files.total}
          </span>
          <button type="button" class="quiet" onClick={stopSending}>
            Stop
          </button>
        </div>
      )}
      {going.map((task) => (
        <div class="task" key={task.id}>
          {KIND_WORDS[task.kind]}
          {task.total === null ? (
            <progress aria-label={KIND_WORDS[task.kind]} />
          ) : (
            <progress aria-label={KIND_WORDS[task.kind]} value={task.done} max={task.total} />
          )}
          <span>
            {task.state === "waiting" ? "Waiting for the work before it" : task.text}
            {task.total === null ? "" : ` (${task.done} of ${task.total})`}
          </span>
          <button type="button" class="quiet" onClick={() => stopTask(task.id)}>
            Stop
          </button>
        </div>
      ))}
    </div>
  );
}
