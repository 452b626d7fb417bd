// compare: an attempt and the profile of healthy boards → which parts show more than they should.
import { TOOL_VERSION } from "../core/tool-version.js";
import type { Findings } from "../findings/findings-schema.js";
import type { PartFindings } from "../findings/parts-schema.js";
import { benjaminiHochberg } from "../numeric/benjamini-hochberg.js";
import { normalTail } from "../numeric/normal-distribution.js";
import { normalFromStudent } from "../numeric/student-to-normal.js";
import { boardError, knowsBoard, partsError } from "./check-comparable.js";
import { fedWatts } from "./divide-power.js";
import type { Excess, ExcessPart } from "./excess-schema.js";
import { partAt } from "./part-place.js";
import type { Profile, ProfilePart } from "./profile-schema.js";

/** Options of `exceedProfile`. */
export interface ExcessOptions {
  readonly falseDiscoveryRate: number;
  readonly file: string | null;
  readonly toolVersion: string;
}

/** Defaults of `exceedProfile`. */
const EXCESS_DEFAULTS: ExcessOptions = Object.freeze({
  /** One part in twenty that is said to exceed does not. */
  falseDiscoveryRate: 0.05,
  file: null,
  toolVersion: TOOL_VERSION,
});

/** Say of every part that the attempt and the profile know by how many sigma it shows more than on healthy boards: the
 *  profile is subtracted with its scatter. Contrast of its face where that is seen, else its watts.
 *  @throws ToolError E_FINDINGS_PARTS without a board, E_COMPARE_BOARD if the profile is of another board.
 */
export function exceedProfile(
  findings: Findings,
  profile: Profile,
  options: Partial<ExcessOptions> = {},
): Excess {
  const o = { ...EXCESS_DEFAULTS, ...options };
  if (!knowsBoard(findings)) throw partsError(o.file);
  if (findings.board.outline !== profile.board.outline)
    throw boardError(profile.board, findings.board, o.file);
  const fedW = fedWatts(findings);
  const tested = findings.parts.flatMap((part) => {
    const measured = measure(profile, part, fedW);
    return measured === null ? [] : [{ part, ...measured }];
  });
  // More than on a healthy board is the question; less is none.
  const chances = tested.map(({ z }) => normalTail(z));
  const { rejected, adjusted } = benjaminiHochberg(chances, o.falseDiscoveryRate);
  const parts = tested
    .map(
      ({ part, z, what, value, expected, sigma }, k): ExcessPart => ({
        ref: part.ref,
        side: part.side,
        exceeds: rejected[k] === 1,
        z,
        pValue: chances[k]!,
        qValue: adjusted[k]!,
        what,
        value,
        expected,
        sigma,
        hotspot: part.hotspot,
        normallyWarm: part.normallyWarm,
      }),
    )
    .sort((a, b) => b.z - a.z || (a.ref < b.ref ? -1 : 1));
  return {
    kind: "faultglow/excess",
    version: 1,
    tool: { name: "faultglow", version: o.toolVersion },
    board: findings.board.name,
    file: o.file,
    per: profile.per,
    fedW,
    healthyAttempts: profile.attempts,
    options: { falseDiscoveryRate: o.falseDiscoveryRate },
    parts,
    verdict: verdictOf(parts, profile),
    notes: [...profile.notes],
  };
}

/** By how many sigma a part shows more than on healthy boards; null where nothing can be held against anything. */
export function excessSigmas(
  profile: Profile,
  part: PartFindings | null,
  fedW: number | null,
): number | null {
  return part === null ? null : (measure(profile, part, fedW)?.z ?? null);
}

type Measured = Pick<ExcessPart, "z" | "what" | "value" | "expected" | "sigma">;

function measure(profile: Profile, part: PartFindings, fedW: number | null): Measured | null {
  if (profile.per === "fed" && fedW === null) return null;
  const share = profile.per === "fed" ? fedW! : 1;
  const healthy = partAt(profile.parts, part);
  if (healthy === undefined || healthy.attempts === 0) return null;
  return byContrast(healthy, part, share) ?? byPower(healthy, part, share);
}

function byContrast({ contrastK, freedom }: ProfilePart, part: PartFindings, share: number): Measured | null {
  if (contrastK === null || part.shiny || part.contrastK === null) return null;
  const value = part.contrastK / share;
  const sigma = Math.hypot(contrastK.sigma, (part.contrastSigmaK ?? 0) / share);
  const z = normalFromStudent((value - contrastK.mean) / sigma, freedom);
  return { z, what: "contrastK", value, expected: contrastK.mean, sigma };
}

function byPower({ logPower, freedom }: ProfilePart, part: PartFindings, share: number): Measured | null {
  if (logPower === null || !((part.powerW ?? 0) > 0)) return null;
  const value = Math.log(part.powerW! / share);
  const sigma = Math.hypot(logPower.sigma, (part.powerNoiseW ?? 0) / part.powerW!);
  const z = normalFromStudent((value - logPower.mean) / sigma, freedom);
  return { z, what: "logPower", value, expected: logPower.mean, sigma };
}

function verdictOf(parts: readonly ExcessPart[], { attempts, per }: Profile): string {
  const good = attempts === 1 ? "one healthy attempt" : `${attempts} healthy attempts`;
  if (parts.length === 0) {
    return per === "fed"
      ? "Nothing can be held against the healthy profile: it is for each watt fed in, and this attempt states no volts and amps, or sees none of its parts."
      : "Nothing can be held against the healthy profile: this attempt sees none of its parts.";
  }
  const over = parts.filter(({ exceeds }) => exceeds).map(({ ref }) => ref);
  if (over.length === 0) return `No part is warmer than in ${good}.`;
  const more = over.length > 3 ? ` and ${over.length - 3} more` : "";
  return `Warmer than in ${good}: ${over.slice(0, 3).join(", ")}${more}.`;
}
