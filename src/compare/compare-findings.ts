// compare: findings of two attempts on one board → what became of the heat of each part.
import { ToolError } from "../core/errors.js";
import type { Findings } from "../findings/findings-schema.js";
import { standingFindings } from "../findings/standing-findings.js";
import { type BoardFindings, checkComparable, knowsBoard } from "./check-comparable.js";
import { COMPARE_DEFAULTS, type CompareOptions } from "./compare-options.js";
import { comparePixels } from "./compare-pixels.js";
import type {
  Change,
  ComparedAttempt,
  ComparedHotspot,
  ComparedPart,
  Comparison,
} from "./comparison-schema.js";
import { type Division, dividePower, fedWatts } from "./divide-power.js";
import { excessSigmas } from "./exceed-profile.js";
import { leaveFollowers } from "./goes-with.js";
import { type JudgedHeat, judgeHeat, type TestedHeat } from "./judge-heat.js";
import { lookNext } from "./look-next.js";
import { type MatchedHotspots, matchHotspots } from "./match-hotspots.js";
import { faintHeat, inBoth, isWarm, namePartHeat, type PartHeat } from "./name-part-heat.js";
import { powerStands, sayChange } from "./say-change.js";
import { sayJobVerdict } from "./say-job-verdict.js";
import { cycleNotes, sameMeaning, sideNotes, stateScatter, timeNotes } from "./spread-notes.js";
import { type LogRatio, strengthRatios } from "./strength-ratio.js";
import { testHeat } from "./test-heat.js";

/** Compare two attempts on one board. Pure, and even-handed: with the attempts exchanged gone and new, hotter and
 *  cooler change places, and nothing else.
 *  Hotspots are matched in board millimetres, so the camera may have stood anywhere. Both attempts are taken to show
 *  the board about as long after power-on.
 *  @param allBefore earlier findings of one board; without a board, of one frame: then hotspots alone are compared, in
 *  pixels.
 *  @param allAfter later findings of the same board.
 *  @throws ToolError E_FINDINGS_PARTS, E_COMPARE_BOARD or E_COMPARE_FRAME if they can't be compared, E_COMPARE_PART if
 *  an action names no part of the board. RangeError for a rate of false discoveries outside 0 to 1 (a fault of the
 *  caller).
 */
export function compareFindings(
  allBefore: Findings,
  allAfter: Findings,
  options: Partial<CompareOptions> = {},
): Comparison {
  const [before, after] = [standingFindings(allBefore), standingFindings(allAfter)];
  const o = { ...COMPARE_DEFAULTS, ...options };
  const rate = o.falseDiscoveryRate;
  if (!(rate > 0 && rate <= 1)) {
    throw new RangeError(`falseDiscoveryRate lies above 0 and up to 1, not at ${rate}`);
  }
  const mapNotes = checkComparable(before, after, [o.beforeFile, o.afterFile]);
  const head = headOf(before, after, o);
  if (!knowsBoard(before) || !knowsBoard(after)) {
    return comparePixels(before, after, { ...head, notes: [...o.notes, ...mapNotes] });
  }
  checkActions(before, after, o);
  const matches = matchHotspots(before, after);
  const heats = namePartHeat(matches, before.parts, after.parts);
  const byHotspot = heats.filter((heat) => heat !== null);
  const named = [...byHotspot, ...faintHeat(byHotspot, before.parts, after.parts)];
  const warm = named.filter((heat) => isWarm(heat) && inBoth(heat) && !heat.byFit);
  const ratios = ratiosOf(named, stateScatter(before, after));
  const division = divisionOf(before, after, warm, ratios);
  const tests = testEach(before, after, named, warm, division, ratios);
  const judged = leaveFollowers(judgeHeat(tests, o.falseDiscoveryRate));
  const draft = {
    ...head,
    division: { by: division.by, factor: division.factor, logSigma: division.logSigma },
    parts: judged.map((one) => describePart(one, before, after, o)),
    hotspots: matches.map((match, k) =>
      describeHotspot(
        match,
        judged.find(({ heat }) => heat === heats[k]),
      ),
    ),
  };
  const lookAt = lookNext(draft, after.parts);
  return {
    ...draft,
    verdict: sayJobVerdict(draft, lookAt),
    lookAt,
    notes: [
      ...o.notes,
      ...mapNotes,
      ...sideNotes(before, after),
      ...cycleNotes(before, after),
      division.note,
      ...timeNotes(before, after),
    ],
  };
}

type Head = Pick<
  Comparison,
  "kind" | "version" | "tool" | "board" | "before" | "after" | "options" | "actions"
>;

function headOf(before: Findings, after: Findings, o: CompareOptions): Head {
  return {
    kind: "faultglow/comparison",
    version: 1,
    tool: { name: "faultglow", version: o.toolVersion },
    board: after.board?.name ?? before.board?.name ?? null,
    before: attemptOf(before, o.beforeFile),
    after: attemptOf(after, o.afterFile),
    options: { falseDiscoveryRate: o.falseDiscoveryRate, healthyAttempts: o.healthy?.attempts ?? 0 },
    actions: o.actions.map(({ what, ref }) => ({ what, ref })),
  };
}

function attemptOf(findings: Findings, file: string | null): ComparedAttempt {
  const { volts, amps } = findings.inputs;
  return { file, sides: findings.board?.sides ?? [], volts, amps, fedW: fedWatts(findings) };
}

function checkActions(before: BoardFindings, after: BoardFindings, { actions }: CompareOptions): void {
  const known = new Set([...before.parts, ...after.parts].map(({ ref }) => ref));
  const wrong = actions.find(({ ref }) => !known.has(ref));
  if (wrong === undefined) return;
  throw new ToolError("E_COMPARE_PART", {
    problem: `the part that was ${wrong.what}, "${wrong.ref}", is not on the board map`,
    fix: "Write the part's name as the map has it",
  });
}

type HeatRatios = ReadonlyMap<PartHeat, LogRatio>;

/** By how much the heat that both attempts show differs. What neither of them lists neither measures. */
function ratiosOf(named: readonly PartHeat[], stateLog: number): HeatRatios {
  const measured = named.flatMap((heat) => {
    const { before: a, after: b, byFit } = heat;
    return inBoth(heat) && !byFit && a !== null && b !== null ? [{ heat, pair: [a, b] as const }] : [];
  });
  const ratios = strengthRatios(
    measured.map(({ pair }) => pair),
    stateLog,
  );
  return new Map(measured.flatMap(({ heat }, k) => (ratios[k] == null ? [] : [[heat, ratios[k]!] as const])));
}

function divisionOf(
  before: Findings,
  after: Findings,
  warm: readonly PartHeat[],
  ratios: HeatRatios,
): Division {
  return dividePower(
    before,
    after,
    warm.flatMap((heat) => {
      const ratio = ratios.get(heat);
      return ratio === undefined ? [] : [{ ref: heat.ref, ratio }];
    }),
  );
}

/** Test the heat of each part.
 *  @param warm heat of normally warm parts that both attempts show.
 */
function testEach(
  before: BoardFindings,
  after: BoardFindings,
  named: readonly PartHeat[],
  warm: readonly PartHeat[],
  division: Division,
  ratios: HeatRatios,
): TestedHeat[] {
  const stateLog = stateScatter(before, after);
  const alike = sameMeaning(before, after);
  return named.map((heat): TestedHeat => {
    // Where warm parts stand for the power, none stands for its own.
    const own = division.by === "warm" && warm.includes(heat);
    const others = warm.filter((other) => other !== heat);
    const without = own ? divisionOf(before, after, others, ratios) : division;
    return {
      heat,
      division: without,
      untested: !alike ? "cycle" : own && without.by === "none" ? "power" : null,
      test: testHeat(heat, without, stateLog, [before, after], ratios.get(heat) ?? null),
    };
  });
}

/** @param judged heat of the part that is named for it; undefined if none is. */
function describeHotspot(
  { before, after, distance, sigma }: MatchedHotspots,
  judged: JudgedHeat | undefined,
): ComparedHotspot {
  const alone: Change = before !== null && after !== null ? "persisted" : "unsure";
  const untold = judged === undefined || (alone === "persisted" && judged.change === "unsure");
  return {
    before: before?.rank ?? null,
    after: after?.rank ?? null,
    change: untold ? alone : judged.change,
    distanceMm: distance,
    sigmaMm: sigma,
    ref: judged?.heat.ref ?? null,
  };
}

function describePart(
  judged: JudgedHeat,
  before: BoardFindings,
  after: BoardFindings,
  { healthy }: CompareOptions,
): ComparedPart {
  const { heat, change, z, pValue, qValue, log } = judged;
  const { before: a, after: b, match } = heat;
  const fed = [fedWatts(before), fedWatts(after)] as const;
  const watts = [toldWatts(before, heat, match.before), toldWatts(after, heat, match.after)] as const;
  const perWatt = (k: 0 | 1) => (watts[k] === null || fed[k] === null ? null : watts[k] / fed[k]);
  return {
    ref: heat.ref,
    side: heat.side,
    normallyWarm: isWarm(heat),
    change,
    riseK: [a?.riseK ?? null, b?.riseK ?? null],
    powerW: [...watts],
    perWatt: [perWatt(0), perWatt(1)],
    z,
    pValue,
    qValue,
    logRatio: log?.ratio ?? null,
    logSigma: log?.sigma ?? null,
    seen: [a?.seen ?? false, b?.seen ?? false],
    hotspots: [match.before?.rank ?? null, match.after?.rank ?? null],
    faceAlone: [heat.shown[0] && match.before === null, heat.shown[1] && match.after === null],
    probability: heat.probability,
    orElse: [...new Set([...heat.orElse, ...(judged.followers ?? [])])],
    ...(judged.goesWith === undefined ? {} : { goesWith: judged.goesWith }),
    ...(healthy === null
      ? {}
      : { healthyZ: [excessSigmas(healthy, a, fed[0]), excessSigmas(healthy, b, fed[1])] }),
    why: sayChange(judged, watts),
  };
}

/** Watts of a part as its attempt tells them; null where no hotspot was found for it, and where what was fed in forbids
 *  them. */
function toldWatts(
  { suspects }: BoardFindings,
  { ref, side }: PartHeat,
  hotspot: MatchedHotspots["before"],
): number | null {
  if (hotspot === null || !powerStands(hotspot)) return null;
  return suspects.find((one) => one.ref === ref && one.side === side)?.powerW ?? hotspot.powerW;
}
