// report: the attempts of a job → plots of rises against time and of watts fed and seen.

import { standingFindings } from "../findings/standing-findings.js";
import type { JobAttempt } from "../job/job.js";
import { type Course, coursePlot, MOST_COURSES } from "./course-plot.js";
import { describeEnergy } from "./describe-findings.js";
import type { JobReportModel } from "./job-report-model.js";
import { fedWatts } from "./job-words.js";
import type { DocumentBlock, DocumentFigure } from "./report-document.js";
import { wattsPlot } from "./watts-plot.js";

const COURSE_WIDTH = 250;
const COURSE_HEIGHT = 150;
const WATTS_WIDTH = 420;

/** Rises against time, for each attempt that was a burst. */
export function jobCourses({ job }: JobReportModel): DocumentBlock[] {
  const figures = job.attempts.flatMap((attempt): DocumentFigure[] => {
    const courses = attemptCourses(attempt);
    const plot = coursePlot(courses, COURSE_WIDTH, COURSE_HEIGHT);
    if (plot === null) return [];
    const more = courses.length > MOST_COURSES ? [sayMore(courses.length - MOST_COURSES)] : [];
    return [{ plot, title: `Attempt ${attempt.attempt.number}`, lines: more }];
  });
  if (figures.length === 0) return [];
  return [
    { kind: "heading", level: 2, text: "Rise against time" },
    {
      kind: "paragraph",
      tone: "quiet",
      text: "How high each hotspot stood above its surroundings, with one sigma. What heats first, and fastest, is nearest to the fault.",
    },
    { kind: "plots", label: "Rise against time", figures },
  ];
}

function attemptCourses({ findings }: JobAttempt): Course[] {
  return findings.hotspots.flatMap(({ course, nearest, rank }) => {
    if (!course || course.length < 2) return [];
    return [{ name: nearest[0]?.ref ?? `hotspot ${rank}`, points: course }];
  });
}

/** Watts fed and seen, for all attempts. */
export function jobWatts({ job }: JobReportModel): DocumentBlock[] {
  const plot = wattsPlot(
    job.attempts.map((attempt) => ({
      name: `Attempt ${attempt.attempt.number}`,
      fedW: fedWatts(attempt),
      ...seenWatts(attempt),
    })),
    WATTS_WIDTH,
  );
  if (plot === null) return [];
  const sentences = job.attempts.flatMap((attempt) => {
    const energy = describeEnergy(attempt.findings);
    return energy === null ? [] : [`Attempt ${attempt.attempt.number}: ${energy}`];
  });
  return [
    { kind: "heading", level: 2, text: "Watts fed and seen" },
    {
      kind: "plots",
      label: "Watts fed and seen",
      figures: [
        {
          plot,
          title: "",
          lines: [
            "Hollow: fed by the supply. Full: sum of the sources that were found, by the frames alone, with one sigma.",
          ],
        },
      ],
    },
    ...(sentences.length === 0 ? [] : [{ kind: "list", items: sentences } as const]),
  ];
}

function seenWatts({ findings }: JobAttempt): { seenW: number | null; seenSigmaW: number | null } {
  const { energy, hotspots } = standingFindings(findings);
  if (energy) return { seenW: energy.seenW, seenSigmaW: energy.seenSigmaW };
  const known = hotspots.filter(({ powerW }) => powerW !== null);
  if (known.length === 0) return { seenW: null, seenSigmaW: null };
  return {
    seenW: known.reduce((sum, { powerW }) => sum + (powerW ?? 0), 0),
    seenSigmaW: Math.hypot(...known.map(({ powerSigmaW }) => powerSigmaW ?? 0)),
  };
}

function sayMore(more: number): string {
  return more === 1
    ? "1 more hotspot is not drawn; findings.json of the attempt has it."
    : `${more} more hotspots are not drawn; findings.json of the attempt has them.`;
}
