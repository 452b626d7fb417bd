// job: a job → names in its readings, actions and attempts that none of its maps has.
import { nearestWord } from "../core/nearest-word.js";
import { type Note, note } from "../core/notes.js";
import { sameName } from "../readings/classify-readings.js";
import { doubtRail } from "./doubt-rail.js";
import type { Job } from "./job.js";

/** What a line of the journal names. */
interface NamedThere {
  readonly seq: number;
  readonly board?: string | undefined;
  readonly ref?: string | undefined;
  readonly net?: string | undefined;
  readonly rail?: string | undefined;
}

/** Look for slips: readings, actions and the fed rails of attempts that name a board, part or net that no map of the
 *  job has. Where no map tells nets, any net will do; without a map, any part.
 *  @param from `seq` of the first line to look at.
 *  @param canWithdraw false: where it is read, lines have no numbers and can't be withdrawn.
 */
export function unknownNames(job: Job, from = 1, canWithdraw = true): Note[] {
  const boards = new Set(job.boards.map((board) => board.name));
  const regions = job.boards.flatMap((board) => board.map.regions);
  const refs = new Set(regions.map((region) => region.ref));
  const nets = new Set(regions.flatMap((region) => region.nets ?? []));
  const isKnownPart = (one: string): boolean => [...refs].some((other) => sameName(other) === sameName(one));
  const notes: Note[] = [];
  const look = (seq: number, what: string, name: string | undefined, known: ReadonlySet<string>): void => {
    // The evidence takes names of any letters' size for the map's, too.
    const isKnown = (one: string) => [...known].some((other) => sameName(other) === sameName(one));
    if (name === undefined || known.size === 0 || isKnown(name)) return;
    // Names of parts are so short that one is always near.
    tell(seq, what, name, what === "part" ? null : nearestWord(name, [...known]));
  };
  const tell = (seq: number, what: string, name: string, near: string | null): void => {
    const several = what === "part" ? severalOf(name, isKnownPart) : null;
    const meant =
      several !== null
        ? `the parts ${several.join(" and ")} were meant`
        : near === null
          ? null
          : `"${near}" was meant`;
    const again =
      what === "rail"
        ? "add the attempt again if the word matters"
        : several === null
          ? "say it again"
          : "say each by itself";
    notes.push(
      note(
        "N_JOB_NAME",
        canWithdraw
          ? `Line ${seq} of the journal names the ${what} "${name}", which no map has. If ${meant ?? "it is a slip"}, withdraw line ${seq} and ${again}.`
          : `No map has the ${what} "${name}".${meant === null ? "" : ` Perhaps ${meant}.`}`,
      ),
    );
  };
  const lines: NamedThere[] = [
    ...[...job.readings, ...job.references].map(({ seq, board, ref, net }) => ({ seq, board, ref, net })),
    ...job.actions.map(({ seq, board, ref }) => ({ seq, board, ref })),
    ...job.attempts.map(({ seq, attempt }) => ({ seq, rail: attempt.conditions.rail ?? undefined })),
  ];
  for (const { seq, board, ref, net, rail } of lines
    .filter(({ seq }) => seq >= from)
    .sort((a, b) => a.seq - b.seq)) {
    look(seq, "board", board, boards);
    look(seq, "part", ref, refs);
    look(seq, "net", net, nets);
    // Only words hang on it.
    const meant = rail === undefined ? null : doubtRail(rail, [...nets]);
    if (meant !== null) tell(seq, "rail", rail!, meant);
  }
  return notes;
}

/** Parts that were written as one name, `U1,C6`; null where any of them is none. */
function severalOf(name: string, isKnown: (one: string) => boolean): string[] | null {
  const parts = name.split(/[\s,;/+&]+/).filter((one) => one !== "");
  return parts.length > 1 && parts.every(isKnown) ? parts : null;
}
