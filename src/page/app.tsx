// page: the route → the page that it names, with the bar above and the words for whoever listens.
import { useLayoutEffect } from "preact/hooks";
import { JobPage } from "./job/job-page.js";
import { JobsPage } from "./jobs/jobs-page.js";
import { SaidRegion } from "./said-region.js";
import { openJob } from "./state/job-data.js";
import { route } from "./state/route.js";
import { TopBar } from "./top-bar.js";

/** The whole page. */
export function App() {
  const now = route.value;
  const job = now.page === "job" ? now.job : null;
  // Before anything is shown: no button of the job before may be pressed for this one.
  useLayoutEffect(() => openJob(job), [job]);
  return (
    <>
      <button type="button" class="skip" onClick={() => document.getElementById("main")?.focus()}>
        Go to the contents
      </button>
      <TopBar />
      <main id="main" tabIndex={-1}>
        {now.page === "jobs" ? <JobsPage /> : <JobPage section={now.section} attempt={now.attempt} />}
      </main>
      <SaidRegion />
    </>
  );
}
