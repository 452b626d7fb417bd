// report: the attempts of a job → their small boards side by side, on one scale.

import type { BoardMap } from "../board/board-schema.js";
import { placeView } from "../board/place-view.js";
import { formatProbability, formatSignificant } from "../core/format-quantity.js";
import { framePoint } from "../core/units.js";
import type { Findings } from "../findings/findings-schema.js";
import type { Job, JobAttempt } from "../job/job.js";
import { sameName } from "../readings/classify-readings.js";
import type { JobReportModel } from "./job-report-model.js";
import { oneLine, powerText } from "./job-words.js";
import type { DocumentBlock, DocumentFigure } from "./report-document.js";
import { type RiseScale, riseLegend, riseScale } from "./rise-bands.js";
import { type BoardFrame, boardFrame, drawSmallBoard, type SmallBoard } from "./small-board.js";

/** Width of one board, pt: three stand beside each other on A4. */
const BOARD_WIDTH = 163;
const LEGEND_WIDTH = 300;
const WORDS = "rise, K: the same colour is the same rise on every board";
const PLAIN_WORDS = "degrees warmer than without power: the same colour on every board";
/** Suspects below this are not drawn: they stand in the table. */
const LEAST_PROBABILITY = 0.05;
const MOST_SUSPECTS = 3;

/** Draw every attempt as a small board: as seen from the top side, one colour as warm on all of them, and, for all
 *  attempts of one board, a millimetre as long. Boards of different shape stand in groups of their own.
 *  @param plain true: captions without numbers.
 */
export function jobBoards({ job, rises }: JobReportModel, plain: boolean): DocumentBlock[] {
  const groups = groupByBoard(job);
  if (groups.size === 0) return [];
  const scale = riseScale(rises.map(({ rise }) => rise));
  const words = plain ? PLAIN_WORDS : WORDS;
  return [
    ...(scale === null
      ? []
      : [
          {
            kind: "plots",
            label: "Scale of the rise",
            figures: [{ plot: riseLegend(scale, LEGEND_WIDTH, words), title: "", lines: [] }],
          } as const,
        ]),
    ...[...groups].flatMap(([name, attempts]): DocumentBlock[] => {
      const frame = boardFrame(
        attempts.map(({ board }) => board),
        BOARD_WIDTH,
      );
      const figures = attempts.flatMap((attempt) =>
        attempt.attempt.views.map((_, view) =>
          attemptFigure(attempt, view, attempt.board, { job, rises, scale, frame, plain }),
        ),
      );
      const heading: DocumentBlock[] =
        groups.size > 1 ? [{ kind: "heading", level: 3, text: oneLine(name) }] : [];
      return [...heading, { kind: "plots", label: "Attempts side by side", figures }];
    }),
  ];
}

type MappedAttempt = JobAttempt & { readonly board: BoardMap };

/** Attempts with a map, by the name of their board, in their order. */
function groupByBoard({ attempts }: Job): Map<string, MappedAttempt[]> {
  const groups = new Map<string, MappedAttempt[]>();
  for (const attempt of attempts) {
    if (attempt.board === null) continue;
    const name = attempt.attempt.board?.name ?? "";
    groups.set(name, [...(groups.get(name) ?? []), { ...attempt, board: attempt.board }]);
  }
  return groups;
}

interface Drawing extends Pick<JobReportModel, "job" | "rises"> {
  readonly scale: RiseScale | null;
  readonly frame: BoardFrame;
  readonly plain: boolean;
}

function attemptFigure(
  attempt: JobAttempt,
  view: number,
  board: BoardMap,
  { job, rises, scale, frame, plain }: Drawing,
): DocumentFigure {
  const { number } = attempt.attempt;
  const side = attempt.views[view]?.side ?? attempt.attempt.views[view]?.view?.side ?? "top";
  const rise = rises.find((each) => each.attempt === number && each.view === view)?.rise ?? null;
  const { findings } = attempt;
  const suspects = shownSuspects(findings);
  const plot = drawSmallBoard(
    {
      board,
      side,
      rise,
      suspects: suspects.map(({ ref }) => ref),
      changed: changedBefore(job, attempt),
      warm: findings.suspects.filter(({ normallyWarm }) => normallyWarm).map(({ ref }) => ref),
      sources: findings.hotspots.flatMap((hotspot) => {
        const shownIn = hotspot.view === "other" ? 1 : 0;
        return hotspot.sourceMm !== null && shownIn === view
          ? [{ rank: hotspot.rank, atMm: hotspot.sourceMm }]
          : [];
      }),
      noHeat: noHeat(attempt, view),
      description: `Attempt ${number}, ${side} side. ${oneLine(findings.verdict)}`,
    },
    scale,
    frame,
  );
  return {
    plot,
    title: `Attempt ${number}, ${side} side`,
    lines: captionLines(attempt, view, side, rise?.peakRiseK ?? null, plain),
  };
}

function captionLines(
  attempt: JobAttempt,
  view: number,
  side: "top" | "bottom",
  peakRiseK: number | null,
  plain: boolean,
): string[] {
  const { findings } = attempt;
  const suspects = shownSuspects(findings);
  const seenAs = side === "bottom" ? ["The bottom side, drawn as seen from the top."] : [];
  const mirrors = noHeat(attempt, view).length > 0 ? ["Dashed rings: judged to be no heat."] : [];
  const healthy = attempt.attempt.conditions.healthy ? ["A good board, for comparison."] : [];
  if (plain) {
    const first = suspects[0];
    return [
      ...healthy,
      first === undefined ? "No unusual heat." : `Most heat at ${first.ref}.`,
      ...mirrors,
      ...seenAs,
    ];
  }
  const power = powerText(attempt);
  return [
    ...healthy,
    ...(power === "" ? [] : [power]),
    suspects.length === 0
      ? "no part stands out"
      : suspects.map(({ ref, probability }) => `${ref} ${formatProbability(probability)}`).join(", "),
    ...(peakRiseK === null
      ? ["no picture of the rise"]
      : [`largest rise ${formatSignificant(peakRiseK, 2)} K`]),
    ...mirrors,
    ...seenAs,
  ];
}

/** Parts that an attempt suspects and that are worth a place in a small picture. */
export function shownSuspects({ suspects }: Findings): Findings["suspects"] {
  return suspects
    .filter(({ normallyWarm, probability }) => !normallyWarm && probability >= LEAST_PROBABILITY)
    .slice(0, MOST_SUSPECTS);
}

/** Artefacts of a view, laid onto the board. */
function noHeat({ findings, views }: JobAttempt, view: number): SmallBoard["noHeat"] {
  const seen = views[view];
  if (!seen) return [];
  const placed = placeView(seen);
  return findings.artefacts.flatMap((artefact) => {
    if ((artefact.view === "other" ? 1 : 0) !== view || artefact.kind === "outside") return [];
    const at = framePoint(artefact.px[0], artefact.px[1]);
    const [x, y] = placed.toBoard(at);
    return [{ atMm: [x, y] as const, radiusMm: Math.sqrt(artefact.areaPx / Math.PI) * placed.mmPerPxAt(at) }];
  });
}

/** Parts of its board that were changed before an attempt. */
function changedBefore(job: Job, { seq, attempt }: JobAttempt): string[] {
  const own = attempt.board?.name ?? "";
  return job.actions.flatMap((action) => {
    const here = action.board === undefined || sameName(action.board) === sameName(own);
    return action.seq < seq && action.ref !== undefined && here ? [action.ref] : [];
  });
}
