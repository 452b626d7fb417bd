// frames: the scales given for a picture by option, by file and inside it → the one that holds.
import { ToolError } from "../core/errors.js";
import { type Note, note } from "../core/notes.js";
import { type Scale, scaleText, toRange } from "./scale.js";

/** A scale and who gave it, in words such as `the option` or `frame.json`. */
export interface ScaleSource {
  readonly from: string;
  readonly scale: Scale;
}

/** Relative difference below which two statements of one scale are the same: rounding of doubles, not of people. */
const SAME = 1e-9;

/** Choose the scale of a picture: the first source wins, and a note tells of every other that differs.
 *  @param sources in order of precedence: option, file beside the picture, text inside the picture.
 *  @param maxLevel largest level the picture can hold; two forms of one scale are compared with it.
 *  @throws ToolError E_SCALE_NONE if there is no source.
 */
export function chooseScale(
  sources: readonly ScaleSource[],
  maxLevel: number,
  file: string,
): { scale: Scale; notes: Note[] } {
  const winner = sources[0];
  if (winner === undefined) {
    throw new ToolError("E_SCALE_NONE", {
      problem: `the grey levels 0 … ${maxLevel} of this picture come without the temperatures they stand for`,
      fix: `Give --scale LO:HI (°C at level 0 and at level ${maxLevel}), gain and offset, or put a scale file ${sidecarNames(file)[0]} beside it`,
      place: { file },
    });
  }
  const notes: Note[] = [];
  for (const other of sources.slice(1)) {
    if (sameScale(winner.scale, other.scale, maxLevel)) continue;
    notes.push(
      note(
        "N_OPTION_WINS",
        `${file}: ${winner.from} gives the scale as ${scaleText(winner.scale)}, ${other.from} as ${scaleText(other.scale)}; ${winner.from} holds.`,
      ),
    );
  }
  return { scale: winner.scale, notes };
}

/** Names of the scale files looked for beside a picture, the more telling one first. */
export function sidecarNames(file: string): [string, string] {
  return [`${file}.json`, `${file.replace(/\.[^./\\]*$/, "")}.json`];
}

function sameScale(a: Scale, b: Scale, maxLevel: number): boolean {
  const [p, q] = [toRange(a, maxLevel), toRange(b, maxLevel)];
  const span = Math.max(Math.abs(p.highC - p.lowC), Math.abs(p.lowC), Math.abs(p.highC));
  return Math.abs(p.lowC - q.lowC) <= SAME * span && Math.abs(p.highC - q.highC) <= SAME * span;
}
