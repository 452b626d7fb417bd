// evidence: what a job leaves open → the one thing to do next, with the doubt that it is expected to take away.

import { isShiny } from "../board/emissivity.js";
import { centroid, signedArea } from "../board/polygon.js";
import { USUAL_MM_PER_PX } from "../compare/match-hotspots.js";
import { capitalised } from "../core/sentence-case.js";
import type { Hotspot } from "../findings/findings-schema.js";
import { sameName } from "../readings/classify-readings.js";
import { expectedGain } from "../suspects/expected-gain.js";
import { isGround } from "../suspects/net-readings.js";
import { chooseMeasurement } from "../suspects/next-measurement.js";
import type { Hypothesis, OpenQuestion } from "../suspects/open-question.js";
import { LEAST_PROBABILITY } from "../suspects/weigh-alternatives.js";
import type { EvidenceFigures } from "./evidence-defaults.js";
import type { Evidence, JobSuspect } from "./evidence-schema.js";
import { cureChance } from "./fault-modes.js";
import type { GatheredJob } from "./gather-job.js";
import type { SeenAttempt } from "./seen-attempt.js";
import { suspectName } from "./suspect-name.js";
import { unmappedAdvice } from "./unmapped-advice.js";
import { unseenChange } from "./unseen-change.js";
import type { WeighedFaults } from "./weigh-faults.js";

/** A part as probable as this is settled as far as camera and meter can: what is left is to take it off. */
const SETTLED = 0.85;
/** Above this chance that no named part explains it the last attempt with heat says where to look. */
const MOSTLY = 0.5;
/** Mended as surely as this nothing is left to be looked for. */
const SURELY_MENDED = 0.9;
/** Parts that may be named as the next one to be looked at, at the most. */
const MOST_PARTS = 10;
/** Width taken for a hotspot whose width is not known, px. */
const USUAL_WIDTH_PX = 6;

/** Choose what to do next: let a line discharge whose readings drift, capture after work that nothing has looked at
 *  yet, try a device that is mended, take off a part that is settled, else the capture or reading with the largest
 *  expected loss of doubt (`chooseMeasurement`), nets that were read in this state of the board left out.
 */
export function chooseNext(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
  o: EvidenceFigures,
): Evidence["next"] {
  const plain = (sentence: string): Evidence["next"] => ({ sentence, gainBits: null });
  const now = job.changes.length;
  const drifting = job.readings
    .filter(({ class: name, state }) => name === "drifting" && state === now)
    .at(-1);
  if (drifting !== undefined) {
    const where = drifting.net ?? `${drifting.ref}${drifting.pin === null ? "" : ` pin ${drifting.pin}`}`;
    return plain(`Discharge ${where}, wait and read it again: its readings still move.`);
  }
  const first = suspects[0];
  if (job.attempts.length === 0) {
    return plain("Capture a baseline and a powered frame: no attempt has been made yet.");
  }
  const unseen = unseenChange(job, suspects);
  if (unseen !== null) return plain(unseen);
  if (weighed.mended >= SURELY_MENDED && first !== undefined) {
    const net = first.nets.find((name) => !isGround(name));
    const read = net === undefined ? "" : `Read ${net} to ground once more, then `;
    const sentence = `${read}let it run with everything connected and look whether it stays cool`;
    return plain(`${capitalised(sentence)}: the fault is mended.`);
  }
  const attempt = job.attempts.findLast(({ heat, placed }) => placed && heat.length > 0);
  if (attempt === undefined || first === undefined) {
    const unplaced = job.attempts.findLast(
      (one) => !one.placed && one.heat.length > 0 && !job.attempts.some((other) => isWithMap(other, one)),
    );
    if (unplaced !== undefined) {
      return plain(
        `Add the frames of attempt ${unplaced.number} again with a board map and a view: it shows heat, and nothing says in which part.`,
      );
    }
    const own = ownAdvice(job.attempts);
    if (own !== null) return own;
    return plain(
      "Capture with more frames, with more current below the rail's nominal voltage, or from the other side: no attempt shows a fault's heat.",
    );
  }
  if (weighed.unexplained > MOSTLY && attempt.findings.nextStep !== null) return adviceOf(attempt);
  const next = measureOrLift(job, weighed, suspects, attempt, o);
  // A later attempt may be just what was advised, or have the fuller map.
  return job.attempts.findLast(({ placed }) => placed) === attempt ? withUnmapped(next, attempt) : next;
}

/** … and what the last attempt says of a change that no part of its map is there for, whatever else is settled. */
function withUnmapped(next: Evidence["next"], { findings }: SeenAttempt): Evidence["next"] {
  const advice = unmappedAdvice(findings);
  return advice === null ? next : { ...next, sentence: `${next.sentence} ${advice}` };
}

/** The measurement that settles most, or what to take off. */
function measureOrLift(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
  attempt: SeenAttempt,
  o: EvidenceFigures,
): Evidence["next"] {
  const first = suspects[0]!;
  const now = job.changes.length;
  const readNow = new Set(job.nets.filter(({ state }) => state === now).map(({ net }) => sameName(net)));
  const question = askJob(job, weighed, suspects, attempt);
  if (first.stillFaulty < SETTLED) {
    const advice = chooseMeasurement(question, (net) => readNow.has(sameName(net)));
    if (advice !== null) return advice;
  }
  if (first.changed.findLast((did) => did === "lifted" || did === "replaced") === "lifted") {
    return {
      gainBits: null,
      sentence: `Look at the pads of ${suspectName(first, suspects)} and at what lies under and behind them: it is off, and the fault is still there.`,
    };
  }
  return takeOff(first, suspectName(first, suspects), question, readNow, o);
}

/** Whether an attempt is another one's frames, given again with a map and a view. */
function isWithMap(attempt: SeenAttempt, unplaced: SeenAttempt): boolean {
  const hashes = new Set(attempt.findings.inputs.powered.map(({ sha256 }) => sha256));
  return (
    attempt.placed &&
    unplaced.findings.inputs.powered.every(({ sha256 }) => sha256 !== null && hashes.has(sha256))
  );
}

/** What the last attempt advises by itself, which has seen what is in the way; null where attempts from other sides
 *  have been made, of which it knows nothing.
 */
function ownAdvice(attempts: readonly SeenAttempt[]): Evidence["next"] | null {
  const placed = attempts.filter((attempt) => attempt.placed);
  const last = placed.at(-1);
  if (last === undefined || last.findings.nextStep === null) return null;
  const sides = new Set(placed.flatMap((attempt) => attempt.sides));
  return sides.size > new Set(last.sides).size ? null : adviceOf(last);
}

function adviceOf({ findings }: SeenAttempt): Evidence["next"] {
  return { sentence: findings.nextStep!, gainBits: findings.nextStepGain ?? null };
}

function takeOff(
  first: JobSuspect,
  name: string,
  { hypotheses }: OpenQuestion,
  readNow: ReadonlySet<string>,
  o: EvidenceFigures,
): Evidence["next"] {
  const net = first.nets.find((name) => !isGround(name) && !readNow.has(sameName(name)));
  const before = net === undefined ? "" : `With the supply off read ${net} to ground, then lift`;
  const lead = net === undefined ? `Lift ${name}` : `${before} ${name}`;
  const cures = cureChance("lifted", o);
  return {
    sentence: `${lead} and capture again: if it is the fault its heat goes${net === undefined ? "" : ", and the reading with it"}.`,
    gainBits: expectedGain(
      hypotheses.map(({ probability }) => probability),
      hypotheses.map(({ ref }) => (ref === first.ref ? [cures, 1 - cures] : [1 - cures, cures])),
    ),
  };
}

/** Put what the whole job leaves open into the question that captures are chosen by, as the last attempt with heat saw
 *  it. */
function askJob(
  job: GatheredJob,
  weighed: WeighedFaults,
  suspects: readonly JobSuspect[],
  attempt: SeenAttempt,
): OpenQuestion {
  const parts = suspects
    .filter(({ stillFaulty, board }) => stillFaulty >= LEAST_PROBABILITY && (board ?? "") === attempt.board)
    .slice(0, MOST_PARTS)
    .map((suspect): Hypothesis => {
      const region = job.maps.get(attempt.board)!.regions.find(({ ref }) => ref === suspect.ref)!;
      const [x, y] = centroid(region.polygon);
      return {
        kind: "part",
        ref: suspect.ref,
        probability: suspect.stillFaulty,
        side: suspect.side,
        at: [x, y],
        radiusMm: Math.sqrt(Math.abs(signedArea(region.polygon)) / Math.PI),
        nets: suspect.nets,
        shiny: isShiny(region),
      };
    });
  const hotspot = attempt.findings.hotspots.find(({ rank }) => rank === attempt.heat[0]!.rank)!;
  const viewSide = attempt.sides[0] ?? "top";
  const at: readonly [number, number] = hotspot.sourceMm ?? parts[0]?.at ?? [0, 0];
  const rest = { ref: null, side: viewSide, at, radiusMm: 0, nets: [], shiny: false };
  const mmPerPx = scaleOf(hotspot);
  const seen = job.attempts.filter(({ board }) => board === attempt.board);
  return {
    hypotheses: [
      ...parts,
      { ...rest, kind: "unnamed" as const, probability: weighed.unexplained / 2 },
      { ...rest, kind: "doubt" as const, probability: weighed.unexplained / 2 },
    ].filter(({ probability }) => probability >= LEAST_PROBABILITY),
    viewSide,
    significance: hotspot.significance,
    widthMm: (hotspot.widthPx ?? USUAL_WIDTH_PX) * mmPerPx,
    mmPerPx,
    aligned: attempt.findings.alignment.trusted,
    isBurst: seen.some(({ findings }) => findings.inputs.rateHz !== null),
    isCycled: seen.some(({ findings }) => (findings.cycle ?? null) !== null),
    bothSides: new Set(seen.flatMap(({ sides }) => sides)).size > 1,
  };
}

/** Millimetres of the board a pixel, by the hotspot's area or, where it has none, by its uncertainty. */
function scaleOf({ areaMm2, areaPx, sourceSigmaMm, viewSigmaMm, sourceSigmaPx }: Hotspot): number {
  if (areaMm2 !== null && areaMm2 > 0 && areaPx > 0) return Math.sqrt(areaMm2 / areaPx);
  const own2 = (sourceSigmaMm ?? 0) ** 2 - (viewSigmaMm ?? 0) ** 2;
  if (own2 > 0 && sourceSigmaPx > 0) return Math.sqrt(own2) / sourceSigmaPx;
  return USUAL_MM_PER_PX;
}
