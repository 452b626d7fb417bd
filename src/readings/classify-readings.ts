// readings: all readings of a job in their order → one judgement for each place and state of the board.
import type { OptionsOf, ResolvedOptions } from "../core/options.js";
import {
  CLASSIFY_DEFAULTS,
  classifyReading,
  type Judgement,
  type ReadingClass,
  sayValue,
} from "./classify-reading.js";
import type { Measure, Reading, Reference } from "./reading-schema.js";

/** Defaults of `classifyReadings`: those of `classifyReading`, and when repeated readings have settled. */
export const SERIES_DEFAULTS = Object.freeze({
  ...CLASSIFY_DEFAULTS,
  /** Two readings of one place in a row that differ by more than this share, and by more than the next figures, have
   *  not settled: a capacitor still charges or discharges (common practice, no source). */
  settleShare: 0.05,
  settleV: 0.01,
  settleOhm: 0.3,
});

/** The figures that readings are judged by; any may be given. */
export type ReadingFigures = OptionsOf<typeof SERIES_DEFAULTS>;

/** A reading with its place in the journal. */
export type ToldReading = Reading & { readonly seq: number };
/** A reference with its place in the journal, if it has one: of two for one place the later one counts. */
export type ToldReference = Reference & { readonly seq?: number };

/** Where a meter was held. */
export interface ReadingPlace {
  readonly board: string | null;
  readonly net: string | null;
  readonly ref: string | null;
  readonly pin: string | null;
  readonly measure: Measure;
}

/** What the readings of one place came to while the board was in one state. */
export interface JudgedReading extends ReadingPlace {
  /** How many changes of the board lie before it. */
  readonly state: number;
  /** The readings, in their order. */
  readonly seqs: readonly number[];
  /** The last of them; null: over-range. */
  readonly value: number | null;
  readonly overRange: boolean;
  readonly class: ReadingClass;
  readonly reference: Reference | null;
  readonly lowByNature: boolean;
  readonly tolerance: number | null;
  readonly why: string;
}

/** What `classifyReadings` takes beside readings and references. */
export interface SeriesOptions extends ReadingFigures {
  /** `seq` of everything that changed the board: readings before and after one are not the same board. */
  readonly changes?: readonly number[];
  /** Nets that are low by nature, beside those whose reference says so. */
  readonly lowByNature?: readonly string[];
}

/** Judge the readings of each place in each state of the board. Repeated readings that still move are drifting,
 *  whatever the last one says; once two in a row agree the last one is judged.
 *  @returns in the order of each group's last reading.
 */
export function classifyReadings(
  readings: readonly ToldReading[],
  references: readonly ToldReference[],
  options: SeriesOptions = {},
): JudgedReading[] {
  const o: ResolvedOptions<typeof SERIES_DEFAULTS> = { ...SERIES_DEFAULTS, ...options };
  const changes = [...(options.changes ?? [])].sort((a, b) => a - b);
  const groups = new Map<string, { state: number; readings: ToldReading[] }>();
  for (const reading of [...readings].sort((a, b) => a.seq - b.seq)) {
    const state = changes.filter((seq) => seq < reading.seq).length;
    const key = `${placeKey(reading)}\n${state}`;
    const group = groups.get(key) ?? { state, readings: [] };
    group.readings.push(reading);
    groups.set(key, group);
  }
  const lowNets = new Set((options.lowByNature ?? []).map(sameName));
  const judged = [...groups.values()].map((group): JudgedReading => {
    const last = group.readings.at(-1)!;
    const reference = findReference(last, references);
    const lowByNature =
      (reference?.lowByNature ?? false) || (last.net !== undefined && lowNets.has(sameName(last.net)));
    const judgement: Judgement =
      driftOf(group.readings, o) ?? classifyReading(last, reference, { ...o, lowByNature });
    return {
      ...placeOf(last),
      state: group.state,
      seqs: group.readings.map(({ seq }) => seq),
      value: last.value,
      overRange: last.overRange,
      ...judgement,
      reference,
      lowByNature,
    };
  });
  return judged.sort((a, b) => a.seqs.at(-1)! - b.seqs.at(-1)!);
}

/** The place of a reading, with null for what is not told. */
function placeOf(reading: Reading): ReadingPlace {
  const { board = null, net = null, ref = null, pin = null, measure } = reading;
  return { board, net, ref, pin, measure };
}

/** A text that is the same for the same place: names differ neither by case nor by blanks around them. */
export function placeKey({ board, net, ref, pin, measure }: Partial<ReadingPlace> | Reading): string {
  return [board, net, ref, pin, measure].map((word) => sameName(word ?? "")).join("\n");
}

/** A name in the form in which names are compared. */
export function sameName(name: string): string {
  return name.trim().toUpperCase();
}

/** Find what a good board shows there: at the same pin, else on the same net, else at the same part read without a pin;
 *  of several the last. A reference that names no board goes for all.
 */
export function findReference(reading: Reading, references: readonly ToldReference[]): Reference | null {
  let best: ToldReference | null = null;
  let most = 0;
  for (const reference of references) {
    if (reference.measure !== reading.measure) continue;
    if (differs(reference.board, reading.board)) continue;
    const fit = fitOf(reading, reference);
    if (fit === 0 || fit < most) continue;
    if (fit === most && best !== null && (best.seq ?? 0) > (reference.seq ?? 0)) continue;
    best = reference;
    most = fit;
  }
  return best;
}

/** 3: the same pin, 2: the same net, 1: the same part read without a pin; 0: another place. */
function fitOf(reading: Reading, reference: Reference): 0 | 1 | 2 | 3 {
  const same = (key: "net" | "ref" | "pin") =>
    reading[key] !== undefined &&
    reference[key] !== undefined &&
    sameName(reading[key]) === sameName(reference[key]);
  if (differs(reference.net, reading.net) || differs(reference.ref, reading.ref)) return 0;
  if (same("pin") && (same("ref") || same("net"))) return 3;
  if (same("net")) return 2;
  return same("ref") && reference.pin === undefined && reading.pin === undefined ? 1 : 0;
}

function differs(a: string | undefined, b: string | undefined): boolean {
  return a !== undefined && b !== undefined && sameName(a) !== sameName(b);
}

/** Say so where the last two of repeated readings differ; null where they agree or there is one alone. */
function driftOf(
  readings: readonly ToldReading[],
  { settleShare, settleV, settleOhm }: ResolvedOptions<typeof SERIES_DEFAULTS>,
): Judgement | null {
  const last = readings.at(-1)!;
  const before = readings.at(-2);
  if (before === undefined || (last.measure !== "diode" && last.measure !== "resistance")) return null;
  const floor = last.measure === "diode" ? settleV : settleOhm;
  const moved = (a: ToldReading, b: ToldReading): number => {
    if (a.overRange || b.overRange) return Number(b.overRange) - Number(a.overRange);
    const difference = b.value! - a.value!;
    const least = Math.max(floor, settleShare * Math.max(Math.abs(a.value!), Math.abs(b.value!)));
    return Math.abs(difference) > least * (1 + 1e-9) ? Math.sign(difference) : 0;
  };
  const step = moved(before, last);
  if (step === 0) return null;
  const text = readings
    .slice(-4)
    .map((r) => (r.overRange ? "over-range" : sayValue(r.value!, r.measure)))
    .join(", then ");
  const earlier = readings.at(-3);
  const turned = earlier !== undefined && moved(earlier, before) === -step;
  return {
    class: "drifting",
    tolerance: null,
    why: turned
      ? `${text}: the readings jump; clean the pad, press the probe and read again`
      : `${text}: the line still charges or discharges; discharge it, wait and read again`,
  };
}
