// page: the list of jobs → a page to open one, begin one, or look at the sample.
import { useEffect, useState } from "preact/hooks";
import { callApi } from "../../api/call-api.js";
import type { JobSummary } from "../../api/jobs-schema.js";
import { countOf } from "../../core/count-of.js";
import { momentText } from "../../report/job-words.js";
import { announceError } from "../state/announce.js";
import { jobList, problem, refreshJobs } from "../state/job-data.js";
import { go, sectionHash } from "../state/route.js";
import { showNumber } from "../state/settings.js";
import { noteTask } from "../state/tasks.js";
import { NewJob } from "./new-job.js";

/** The page with all jobs. */
export function JobsPage() {
  const [wanted, setWanted] = useState("");
  useEffect(() => void refreshJobs(), []);
  const list = jobList.value;
  const found = list?.jobs.filter((job) => matches(job, wanted)) ?? [];
  return (
    <div class="jobs-page">
      <section aria-labelledby="jobs-title" class="jobs">
        <div class="row spread">
          <h1 id="jobs-title">Jobs</h1>
          {list !== null && list.jobs.length > 3 && (
            <label class="row">
              Find
              <input
                type="search"
                value={wanted}
                placeholder="device, part, net, word"
                onInput={(event) => setWanted(event.currentTarget.value)}
              />
            </label>
          )}
        </div>
        {problem.value !== null && <p class="chip bad">{problem.value}</p>}
        {list === null && problem.value === null && <p class="dim">Reading the jobs …</p>}
        {list !== null && list.jobs.length === 0 && <FirstVisit />}
        {found.length > 0 && (
          <ul class="job-list">
            {found.map((job) => (
              <JobLine key={job.id} job={job} />
            ))}
          </ul>
        )}
        {list !== null && list.jobs.length > 0 && found.length === 0 && <p>No job has "{wanted}".</p>}
        {list?.unreadable.map(({ folder, problem: why }) => (
          <p key={folder} class="chip warn">
            {folder} can't be read: {why}
          </p>
        ))}
        {list !== null && <p class="dim small">Kept in {list.folder}</p>}
      </section>
      <aside class="panel new-job">
        <NewJob />
        {list !== null && list.jobs.length > 0 && <SampleButton />}
      </aside>
    </div>
  );
}

function JobLine({ job }: { readonly job: JobSummary }) {
  const counts = [
    count(job.attempts, "attempt"),
    count(job.readings, "reading"),
    count(job.actions, "action"),
  ].filter((text) => text !== "");
  return (
    <li>
      <a href={sectionHash(job.id, job.attempts > 0 ? "answer" : "frames")}>
        <strong>{job.device}</strong>
        {job.complaint !== null && <span class="dim"> {job.complaint}</span>}
      </a>
      {job.verdict !== null && <p>{showNumber(job.verdict)}</p>}
      <p class="dim small">{[...counts, `last ${momentText(job.lastAt)}`].join(" · ")}</p>
    </li>
  );
}

function FirstVisit() {
  return (
    <div class="first-visit">
      <p class="lead">
        Two thermal frames of a board, one without power and one with current into the line that reads short:
        faultglow says which part heats, how sure that is, and what to measure next.
      </p>
      <SampleButton isPrimary />
      <p class="dim">
        The sample is a soil-moisture meter of our own invention, with three attempts: the part that was
        changed first was not the only fault.
      </p>
      <p class="dim">With frames of your own, begin a job; its first page takes them.</p>
    </div>
  );
}

function SampleButton({ isPrimary = false }: { readonly isPrimary?: boolean }) {
  const [isBusy, setBusy] = useState(false);
  const open = async (): Promise<void> => {
    setBusy(true);
    try {
      const { job, task } = await callApi("makeSample", {});
      noteTask(task);
      go(sectionHash(job, "answer"));
    } catch (error) {
      announceError(error);
      setBusy(false);
    }
  };
  return (
    <button type="button" class={isPrimary ? "primary big" : "quiet"} disabled={isBusy} onClick={open}>
      Open the sample job
    </button>
  );
}

/** True if some word of the job has the text. */
function matches(job: JobSummary, wanted: string): boolean {
  const text = wanted.trim().toLowerCase();
  if (text === "") return true;
  const all = [job.device, job.complaint ?? "", job.verdict ?? "", ...job.parts.map(({ ref }) => ref)];
  return [...all, ...job.nets, ...job.words].some((word) => word.toLowerCase().includes(text));
}

function count(number: number, word: string): string {
  return number === 0 ? "" : countOf(number, word);
}
