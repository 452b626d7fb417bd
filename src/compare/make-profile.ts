// compare: findings of healthy boards of one map → what each part is expected to show, with its scatter.

import { type Note, note } from "../core/notes.js";
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Findings } from "../findings/findings-schema.js";
import type { PartFindings } from "../findings/parts-schema.js";
import { type BoardFindings, boardError, knowsBoard, partsError } from "./check-comparable.js";
import { fedWatts } from "./divide-power.js";
import { partAt, placeKey } from "./part-place.js";
import type { Profile, ProfilePart } from "./profile-schema.js";

/** Scatter from one healthy attempt to the next, before any is seen: of the logarithm of watts (another board, another
 *  boot: twice what the measurement itself scatters), and of a contrast as a share of itself and of the rise around
 *  it. */
const POWER_SCATTER = 0.5;
const CONTRAST_SHARE = 0.3;
const RISE_SHARE = 0.05;
/** How many attempts that is worth. */
const PRIOR_FREEDOM = 4;
/** Fewer attempts tell little of the scatter. */
const FEW = 3;

/** Make a profile. Where all attempts state volts and amps it is for each watt fed in, else for an attempt as it is.
 *  Few attempts hardly tell a scatter: their own variance is drawn towards the usual one by degrees of freedom (as in
 *  Smyth 2004, Stat. Appl. Genet. Mol. Biol. 3:3, with the prior given, from memory), and the scatter is that of one
 *  more attempt, its mean's own error included.
 *  @param files names of the findings, for errors.
 *  @throws ToolError E_FINDINGS_PARTS if some know no board, E_COMPARE_BOARD if they are of different boards.
 *  @throws RangeError without any (a fault of the caller).
 */
export function makeProfile(
  healthy: readonly Findings[],
  files: readonly (string | null)[] = [],
  toolVersion = TOOL_VERSION,
): Profile {
  if (healthy.length === 0) throw new RangeError("needs at least one attempt");
  const known = healthy.map((findings, k): BoardFindings => {
    if (!knowsBoard(findings)) throw partsError(files[k] ?? null);
    return findings;
  });
  const [first] = known;
  known.forEach(({ board }, k) => {
    if (board.outline !== first!.board.outline) throw boardError(first!.board, board, files[k] ?? null);
  });
  const fed = known.map(fedWatts);
  const per = fed.every((watts) => watts !== null) ? "fed" : "attempt";
  const shares = fed.map((watts) => (per === "fed" ? watts! : 1));
  return {
    kind: "faultglow/profile",
    version: 1,
    tool: { name: "faultglow", version: toolVersion },
    board: { ...first!.board, sides: sidesOf(known) },
    per,
    attempts: known.length,
    sources: known.map(({ inputs }) => inputs.powered.map(({ sha256 }) => sha256)),
    parts: namesOf(known).map(([ref, side]) => partOf(ref, side, known, shares)),
    notes: fewNotes(known.length),
  };
}

function partOf(
  ref: string,
  side: "top" | "bottom",
  known: readonly BoardFindings[],
  shares: readonly number[],
): ProfilePart {
  const seen = known.flatMap(({ parts }, k) => {
    const part = partAt(parts, { ref, side });
    return part === undefined || !part.seen ? [] : [{ part, share: shares[k]! }];
  });
  const found = seen.filter(({ part }) => (part.powerW ?? 0) > 0);
  const contrasts = seen.filter(({ part }) => part.contrastK !== null);
  const usualK = ({ contrastK, contrastSigmaK, riseK }: PartFindings) =>
    Math.hypot(CONTRAST_SHARE * contrastK!, RISE_SHARE * (riseK ?? 0), contrastSigmaK ?? 0);
  return {
    ref,
    side,
    attempts: seen.length,
    found: found.length,
    logPower: expect(
      found.map(({ part, share }) => Math.log(part.powerW! / share)),
      found.map(() => POWER_SCATTER),
    ),
    contrastK: expect(
      contrasts.map(({ part, share }) => part.contrastK! / share),
      contrasts.map(({ part, share }) => usualK(part) / share),
    ),
    freedom: PRIOR_FREEDOM + Math.max(0, seen.length - 1),
  };
}

/** Mean, and the scatter of one more.
 *  @param usual scatter that each is expected to have.
 */
function expect(values: readonly number[], usual: readonly number[]): ProfilePart["contrastK"] {
  const n = values.length;
  if (n === 0) return null;
  const mean = values.reduce((sum, value) => sum + value, 0) / n;
  const prior = usual.reduce((sum, sigma) => sum + sigma * sigma, 0) / n;
  const squares = values.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  const variance = (PRIOR_FREEDOM * prior + squares) / (PRIOR_FREEDOM + n - 1);
  return { mean, sigma: Math.sqrt(variance * (1 + 1 / n)) };
}

function namesOf(known: readonly BoardFindings[]): [string, "top" | "bottom"][] {
  const names = new Map<string, [string, "top" | "bottom"]>();
  for (const part of known.flatMap(({ parts }) => parts)) names.set(placeKey(part), [part.ref, part.side]);
  return [...names.values()];
}

function sidesOf(known: readonly BoardFindings[]): ("top" | "bottom")[] {
  return (["top", "bottom"] as const).filter((side) => known.some(({ board }) => board.sides.includes(side)));
}

function fewNotes(attempts: number): Note[] {
  if (attempts >= FEW) return [];
  return [
    note(
      "N_PROFILE_FEW",
      `The healthy profile comes from ${attempts === 1 ? "one attempt" : `${attempts} attempts`}: how much a good board varies is mostly assumed. Three or more tell it.`,
    ),
  ];
}
