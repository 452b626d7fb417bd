// page: the open job → its header, the way through its sections, and the section in question.
import type { ComponentType } from "preact";
import type { JobState } from "../../api/jobs-schema.js";
import { AnswerSection } from "../answer/answer-section.js";
import { AttemptsSection } from "../attempts/attempts-section.js";
import { FramesSection } from "../frames/frames-section.js";
import { ReadingsSection } from "../readings/readings-section.js";
import { ReportSection } from "../report/report-section.js";
import { jobState, problem } from "../state/job-data.js";
import { SECTIONS, type Section, sectionHash } from "../state/route.js";
import type { SectionProps } from "../state/section-props.js";
import { BoardSection } from "./board-section.js";
import { TaskStrip } from "./task-strip.js";

const VIEWS: Readonly<Record<Section, ComponentType<SectionProps>>> = {
  frames: FramesSection,
  board: BoardSection,
  answer: AnswerSection,
  attempts: AttemptsSection,
  readings: ReadingsSection,
  report: ReportSection,
};
const WORDS: Readonly<Record<Section, string>> = {
  frames: "Frames",
  board: "Board",
  answer: "Answer",
  attempts: "Attempts",
  readings: "Readings & actions",
  report: "Report",
};

/** The page of a job. */
export function JobPage({
  section,
  attempt,
}: {
  readonly section: Section;
  readonly attempt: number | null;
}) {
  const state = jobState.value;
  if (state === null) {
    return problem.value === null ? (
      <p class="dim pad">Reading the job …</p>
    ) : (
      <p class="pad">
        <span class="chip bad">{problem.value}</span> <a href="#/">All jobs</a>
      </p>
    );
  }
  const View = VIEWS[section];
  return (
    <div class="job-page">
      <h1 class="hidden">
        {state.header.device}: {WORDS[section]}
      </h1>
      <nav class="sections" aria-label="Sections of the job">
        {SECTIONS.map((name) => (
          <a
            key={name}
            href={sectionHash(state.id, name)}
            aria-current={name === section ? "page" : undefined}
          >
            {WORDS[name]} <span class="count">{countBehind(name, state)}</span>
          </a>
        ))}
        {state.header.complaint !== null && <span class="complaint dim">{state.header.complaint}</span>}
      </nav>
      <TaskStrip job={state.id} />
      <View key={state.id} state={state} attempt={attempt} />
    </div>
  );
}

/** How much there is behind a link, as a number. */
function countBehind(section: Section, state: JobState): string {
  const number = {
    frames: state.inbox.files.length,
    board: state.boards.at(-1)?.map.regions.length ?? 0,
    answer: 0,
    attempts: state.attempts.length,
    readings: state.readings.length + state.actions.length,
    report: 0,
  }[section];
  return number === 0 ? "" : String(number);
}
