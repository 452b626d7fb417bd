// page: a job → its reports and its zip, made on request, then downloaded or opened.
import { useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import { addressOf } from "../../api/endpoints.js";
import type { Task } from "../../api/task-schema.js";
import { AID_STATEMENT } from "../../report/cautions.js";
import type { SectionProps } from "../job/job-page.js";
import { announceError } from "../state/announce.js";
import { isGoing, noteTask, tasksOf } from "../state/tasks.js";

/** What can be made of a job. */
const PAPERS = [
  {
    title: "Repair report",
    text: "Attempts, suspects, readings, what was changed and why, with the proof of every file. For the shop.",
    button: "Make the repair report",
    make: "repairer",
    files: ["job-report.html", "job-report.pdf"],
  },
  {
    title: "Customer's report",
    text: "One page in plain words: what was wrong, what was done, how it stands. For whoever owns the device.",
    button: "Make the customer's report",
    make: "customer",
    files: ["customer-report.html", "customer-report.pdf"],
  },
  {
    title: "Whole job",
    text: "Everything as one zip: frames, maps, findings, journal. It can be unpacked and checked on another machine.",
    button: "Pack the job",
    make: "zip",
    files: ["job.zip"],
  },
] as const;
type Paper = (typeof PAPERS)[number];

/** Reports by one button each. */
export function ReportSection({ state }: SectionProps) {
  return (
    <section aria-label="Report" class="report-section">
      {PAPERS.map((paper) => (
        <PaperCard key={paper.make} job={state.id} paper={paper} />
      ))}
      <p class="dim small aid">{AID_STATEMENT}</p>
    </section>
  );
}

function PaperCard({ job, paper }: { readonly job: string; readonly paper: Paper }) {
  const [isAsked, setAsked] = useState(false);
  const task = tasksOf(job).find((one) => belongsTo(one, paper));
  const isBusy = isAsked || (task !== undefined && isGoing(task));
  const make = async (): Promise<void> => {
    setAsked(true);
    try {
      const started =
        paper.make === "zip"
          ? await callApi("makePack", { job })
          : await callApi("makeReport", { job, body: { for: paper.make } });
      made.set(started.task.id, paper.make);
      noteTask(started.task);
    } catch (error) {
      announceError(error);
    } finally {
      setAsked(false);
    }
  };
  const files = task?.state === "done" ? paper.files.filter((file) => task.files.includes(file)) : [];
  return (
    <div class="panel paper">
      <h2>{paper.title}</h2>
      <p>{paper.text}</p>
      <div class="row">
        <button type="button" class={files.length === 0 ? "primary" : ""} disabled={isBusy} onClick={make}>
          {isBusy ? "Being made …" : files.length === 0 ? paper.button : "Make it anew"}
        </button>
        {files.map((file) => (
          <a key={file} class="download" href={addressOf("jobFile", { job, file })} download={file}>
            Download {file.slice(file.lastIndexOf(".") + 1).toUpperCase()}
          </a>
        ))}
      </div>
      {task?.state === "failed" && task.error !== null && (
        <p class="chip bad">
          {task.error.problem}. {task.error.fix}.
        </p>
      )}
    </div>
  );
}

/** What each task that this page began is to make; a task says it itself only once it is done. */
const made = new Map<string, Paper["make"]>();

function belongsTo(task: Task, paper: Paper): boolean {
  if (task.state === "cancelled") return false;
  const known = made.get(task.id);
  if (known !== undefined) return known === paper.make;
  return task.files.some((file) => (paper.files as readonly string[]).includes(file));
}
