// serve: the frames in an inbox → which are baseline and which powered, and by what that was told.
import type { InboxFrame, Role } from "../api/inbox-schema.js";
import { tellRole } from "../watch/tell-role.js";

/** What is known of a frame. */
export interface FrameToTell {
  readonly sha256: string;
  readonly name: string;
  readonly frame: InboxFrame;
  readonly said: Role | null;
}

/** A role and how it was told. */
export interface ToldRole {
  readonly role: Role;
  readonly by: "said" | "name" | "contents" | "order";
}

/** A warm spot lifts the warmest part of a frame by at least this much, K, and this many times the noise; less than
 *  that differs between two baselines, too. */
const LEAST_STEP_K = 0.3;
const LEAST_STEP_NOISES = 6;

/** Tell the roles of frames: by what a person said, by words in the name, by how far the warmest part stands out, and
 *  at last by order: the first is a baseline, and so is the first of another size that has more than one frame, which
 *  may be another view's. Frames that are alone in their size are told by the contents of all, for these are
 *  temperatures and not pixels.
 *  @param frames in the order in which they are read. */
export function guessRoles(frames: readonly FrameToTell[]): Map<string, ToldRole> {
  const told = new Map<string, ToldRole>();
  for (const { sha256, name, said } of frames) {
    const byName = tellRole(name);
    if (said !== null) told.set(sha256, { role: said, by: "said" });
    else if (byName !== null) told.set(sha256, { role: byName, by: "name" });
  }
  const sizes = new Map<string, FrameToTell[]>();
  for (const frame of frames) {
    const size = `${frame.frame.width}×${frame.frame.height}`;
    sizes.set(size, [...(sizes.get(size) ?? []), frame]);
  }
  // Views first, in whatever order they were dropped: a frame that is alone in its size is then the odd one beside
  // them.
  const groups = [...sizes.values()];
  for (const group of groups) if (group.length > 1) tellRest(group, group, told, false);
  const lone = groups.flatMap((group) => (group.length > 1 ? [] : group));
  const hasBaseline = frames.some(({ sha256 }) => told.get(sha256)?.role === "baseline");
  tellRest(lone, frames, told, hasBaseline);
  return told;
}

/** @param beside frames by whose contents these are told: those of their size, or, for frames that are alone in theirs,
 *  all.
 *  @param isOdd alone in their sizes, beside a baseline: no views of their own, so that they are powered ones at
 *  another resolution. */
function tellRest(
  group: readonly FrameToTell[],
  beside: readonly FrameToTell[],
  told: Map<string, ToldRole>,
  isOdd: boolean,
): void {
  const open = group.filter(({ sha256 }) => !told.has(sha256));
  if (open.length === 0) return;
  const limit = contrastLimit(beside, told);
  if (limit !== null) {
    for (const { sha256, frame } of open)
      told.set(sha256, { role: frame.contrastK > limit ? "powered" : "baseline", by: "contents" });
    return;
  }
  let hasBaseline = isOdd || group.some(({ sha256 }) => told.get(sha256)?.role === "baseline");
  for (const { sha256 } of open) {
    told.set(sha256, { role: hasBaseline ? "powered" : "baseline", by: "order" });
    hasBaseline = true;
  }
}

/** The contrast that divides baselines from powered frames: amid the widest gap between neighbours by contrast, if it
 *  is wide enough and what is told already lies on its sides. */
function contrastLimit(group: readonly FrameToTell[], told: ReadonlyMap<string, ToldRole>): number | null {
  const sorted = [...group].sort((a, b) => a.frame.contrastK - b.frame.contrastK);
  let widest = 0;
  let limit: number | null = null;
  for (let i = 1; i < sorted.length; i++) {
    const [below, above] = [sorted[i - 1]!.frame.contrastK, sorted[i]!.frame.contrastK];
    if (above - below <= widest) continue;
    widest = above - below;
    limit = (above + below) / 2;
  }
  const noiseK = Math.max(0, ...group.map(({ frame }) => frame.noiseK ?? 0));
  if (limit === null || widest < Math.max(LEAST_STEP_K, LEAST_STEP_NOISES * noiseK)) return null;
  const divides = limit;
  const agrees = group.every(({ sha256, frame }) => {
    const role = told.get(sha256)?.role;
    return role === undefined || (role === "powered") === frame.contrastK > divides;
  });
  return agrees ? divides : null;
}
