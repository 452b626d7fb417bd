// page: a job → its reports and its zip, made by one button, then downloaded or opened.
import { useEffect, useRef, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import { addressOf } from "../../api/endpoints.js";
import { TASK_DONE, type Task } from "../../api/task-schema.js";
import { AID_STATEMENT } from "../../report/cautions.js";
import { faultText } from "../show/fault-text.js";
import { announce, announceError } from "../state/announce.js";
import type { SectionProps } from "../state/section-props.js";
import { isGoing, noteTask, tasksOf } from "../state/tasks.js";

/** What is made of a job, in this order: the zip of a long burst takes longest. */
const PAPERS = [
  {
    title: "Repair report",
    text: "Attempts, suspects, readings, what was changed and why, with the proof of every file. For the shop.",
    make: "repairer",
    files: ["job-report.html", "job-report.pdf"],
  },
  {
    title: "Customer's report",
    text: "One page in plain words: what was wrong, what was done, how it stands. For whoever owns the device.",
    make: "customer",
    files: ["customer-report.html", "customer-report.pdf"],
  },
  {
    title: "Whole job",
    text: "Everything as one zip: the repair report as a page, frames, maps, findings, journal. It can be unpacked and checked on another machine.",
    make: "zip",
    files: ["job.zip"],
  },
] as const;
type Paper = (typeof PAPERS)[number];

/** All that is handed over, by one button. */
export function ReportSection({ state }: SectionProps) {
  const [isAsked, setAsked] = useState(false);
  const tasks = tasksOf(state.id);
  const papers = PAPERS.map((paper) => ({ paper, task: tasks.find((one) => belongsTo(one, paper)) ?? null }));
  const isBusy = isAsked || papers.some(({ task }) => task !== null && isGoing(task));
  const isMade = papers.some(({ task }) => task?.state === "done");
  const wasBusy = useRef(false);
  useEffect(() => {
    if (wasBusy.current && !isBusy && papers.every(({ task }) => task?.state === "done"))
      announce("The report is ready, as HTML, PDF and zip.");
    wasBusy.current = isBusy;
  }, [isBusy]);
  const make = async (): Promise<void> => {
    setAsked(true);
    try {
      for (const paper of PAPERS) await begin(state.id, paper);
    } catch (error) {
      announceError(error);
    } finally {
      setAsked(false);
    }
  };
  return (
    <section aria-label="Report" class="report-section">
      <div class="row">
        <button type="button" class={isMade ? "big" : "big primary"} disabled={isBusy} onClick={make}>
          {isBusy ? "Being made …" : isMade ? "Make it anew" : "Make the report"}
        </button>
        <span class="dim">As HTML, PDF and zip, of all that the job holds now.</span>
      </div>
      <ul class="plain papers">
        {papers.map(({ paper, task }) => (
          <PaperRow key={paper.make} job={state.id} paper={paper} task={task} />
        ))}
      </ul>
      <p class="dim small aid">{AID_STATEMENT}</p>
    </section>
  );
}

interface PaperRowProps {
  readonly job: string;
  readonly paper: Paper;
  readonly task: Task | null;
}

function PaperRow({ job, paper, task }: PaperRowProps) {
  const files = task?.state === "done" ? paper.files.filter((file) => task.files.includes(file)) : [];
  return (
    <li class="panel paper">
      <div>
        <h2>{paper.title}</h2>
        <p>{paper.text}</p>
      </div>
      <div class="row">
        {files.map((file) => (
          <a key={file} class="download" href={addressOf("jobFile", { job, file })} download={file}>
            <span class="hidden">{paper.title} as </span>
            {file.slice(file.lastIndexOf(".") + 1).toUpperCase()}
          </a>
        ))}
        {task === null && <span class="dim">not made yet</span>}
        {task !== null && isGoing(task) && <span class="dim">being made …</span>}
        {task?.state === "done" && task.text !== TASK_DONE && <span class="chip warn">{task.text}</span>}
        {task?.state === "failed" && task.error !== null && (
          <span class="chip bad">{faultText(task.error)}</span>
        )}
      </div>
    </li>
  );
}

async function begin(job: string, { make }: Paper): Promise<void> {
  const { task } =
    make === "zip"
      ? await callApi("makePack", { job })
      : await callApi("makeReport", { job, body: { for: make } });
  made.set(task.id, make);
  noteTask(task);
}

/** What each task that this page began is to make; a task says it itself only once it is done. */
const made = new Map<string, Paper["make"]>();

function belongsTo(task: Task, paper: Paper): boolean {
  if (task.state === "cancelled") return false;
  const known = made.get(task.id);
  if (known !== undefined) return known === paper.make;
  return task.files.some((file) => (paper.files as readonly string[]).includes(file));
}
