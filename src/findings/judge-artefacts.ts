// findings: patches that no source explains → what they are instead of heat, with the reason.

import type { BoardMap, Region } from "../board/board-schema.js";
import { FINISH_EMISSIVITY } from "../board/emissivity.js";
import type { PlacedView } from "../board/place-view.js";
import { regionInView } from "../board/region-in-view.js";
import { BAD_PIXEL } from "../clean/find-bad-pixels.js";
import { formatSignificant } from "../core/format-quantity.js";
import { framePoint } from "../core/units.js";
import type { DetectedPatch } from "../hotspots/detect-patches.js";
import type { Artefact } from "./findings-schema.js";
import type { PreparedPair } from "./prepare-pair.js";

/** Share of a patch's change that a residual shift must explain to be called an edge. */
const EDGE_SHARE = 0.6;
/** Farthest that the scene may have to move for that, px, whatever is known of the alignment: what it could not undo
 *  shows as two edges, which no gradient explains; on a flat face a wide hot spot would otherwise pass for a shift by
 *  many pixels of what little structure the face has. */
const MOST_SHIFT_PX = 1.5;
/** Where the alignment is trusted, so many times its uncertainty: an edge that stands out reads as up to five times the
 *  shift that is there (simulated boards), for it is where interpolation and pattern add to it that it stands out … */
const EDGE_SIGMAS = 6;
/** … and where it is nearly exact, what these leave by themselves, px: up to 0.26 on simulated boards, the alignment
 *  being right to 0.04. */
const LEAST_EDGE_SHIFT_PX = 0.3;

/** Sources that make less than this share of a change don't explain it. */
const HEAT_SHARE = 0.5;

/** Nothing mirrored of a person changes by more, K: skin is at most at 34 °C (common practice, no source), and a room
 *  where people are is kept at 18 °C or more (WHO Housing and health guidelines, 2018). */
export const MOST_MIRRORED_K = 16;

/** A told emissivity is known no better than this: tables of solder mask and moulding compound differ by 0.025 to 0.05
 *  either way (`FINISH_EMISSIVITY`). */
const EMISSIVITY_DOUBT = 0.05;

/** What a face mirrors of a person at most, as far as the map tells its finish. */
export interface MirrorLimit {
  readonly ref: string;
  readonly mostK: number;
}

/** Tell how much of a person a face can mirror: its finish throws back what it doesn't send out.
 *  @returns null where the map tells neither finish nor emissivity: what is there may be bare metal.
 */
export function mirrorLimit(region: Pick<Region, "ref" | "finish" | "emissivity">): MirrorLimit | null {
  const { ref, finish, emissivity } = region;
  const told = emissivity === undefined ? null : emissivity - EMISSIVITY_DOUBT;
  const least = told ?? (finish === undefined ? null : FINISH_EMISSIVITY[finish].low);
  return least === null ? null : { ref, mostK: Math.min(1, 1 - least) * MOST_MIRRORED_K };
}

/** The same for the face that a view shows at a pixel. */
export function mirrorLimits(
  view: PlacedView,
  board: BoardMap,
): (px: readonly [number, number]) => MirrorLimit | null {
  return ([x, y]) => {
    const seen = regionInView(board, view.toBoard(framePoint(x, y)), view.side);
    return seen === null ? null : mirrorLimit(seen);
  };
}

/** Share of the change around a patch that a small shift of the scene explains, 0…1; 0 if the alignment leaves none of
 *  that size. A nudge leaves a scene's own gradient behind; heat does not follow it.
 */
function shiftShare(pair: PreparedPair, patch: DetectedPatch, mostPx: number): number {
  const { width, height } = pair.shape;
  const scene = pair.alignment.separated.scene.data;
  const cx = patch.peak % width;
  const cy = Math.floor(patch.peak / width);
  const reach = 5;
  let xx = 0;
  let xy = 0;
  let yy = 0;
  let xr = 0;
  let yr = 0;
  let rr = 0;
  let mean = 0;
  let count = 0;
  for (let pass = 0; pass < 2; pass++) {
    for (let y = Math.max(1, cy - reach); y <= Math.min(height - 2, cy + reach); y++) {
      for (let x = Math.max(1, cx - reach); x <= Math.min(width - 2, cx + reach); x++) {
        const i = y * width + x;
        const r = pair.smoothRise.data[i]!;
        const gx = 0.5 * (scene[i + 1]! - scene[i - 1]!);
        const gy = 0.5 * (scene[i + width]! - scene[i - width]!);
        if (!(r * gx * gy * 0 === 0)) continue;
        if (pass === 0) {
          mean += r;
          count++;
          continue;
        }
        const d = r - mean;
        xx += gx * gx;
        xy += gx * gy;
        yy += gy * gy;
        xr += gx * d;
        yr += gy * d;
        rr += d * d;
      }
    }
    if (pass === 0) mean /= Math.max(1, count);
  }
  const det = xx * yy - xy * xy;
  if (!(det > 1e-12) || !(rr > 0)) return 0;
  const a = (yy * xr - xy * yr) / det;
  const b = (xx * yr - xy * xr) / det;
  if (Math.hypot(a, b) > mostPx) return 0;
  return Math.max(0, Math.min(1, (a * xr + b * yr) / rr));
}

/** Largest shift that a remnant of an edge may show, px. */
function possibleShiftPx({ trusted, uncertaintyPx }: PreparedPair["alignment"]): number {
  const shiftPx = Math.max(LEAST_EDGE_SHIFT_PX, EDGE_SIGMAS * uncertaintyPx);
  return trusted ? Math.min(MOST_SHIFT_PX, shiftPx) : MOST_SHIFT_PX;
}

/** True if a patch is what a nudge leaves at an edge rather than heat.
 *  @param hasBoard a board's fit can tell heat otherwise: without one what looks like a larger shift is better no heat.
 */
export function looksLikeEdge(pair: PreparedPair, patch: DetectedPatch, hasBoard: boolean): boolean {
  const mostPx = hasBoard ? possibleShiftPx(pair.alignment) : MOST_SHIFT_PX;
  return shiftShare(pair, patch, mostPx) >= EDGE_SHARE;
}

/** A change that is neither heat in this board nor a person who was mirrored. */
export type StrangeRise = Artefact & { readonly riseK: number };

/** Those of one view's artefacts that no mirrored person makes. */
export function strangeRises(
  artefacts: readonly Artefact[],
  limitAt: (px: readonly [number, number]) => MirrorLimit | null,
): StrangeRise[] {
  return artefacts.filter(
    (one): one is StrangeRise =>
      one.kind === "reflection" && one.riseK! > (limitAt(one.px)?.mostK ?? MOST_MIRRORED_K),
  );
}

/** The largest of them; null where there are none. */
export function strangest(strange: readonly StrangeRise[]): StrangeRise | null {
  return strange.length === 0 ? null : strange.reduce((most, one) => (one.riseK > most.riseK ? one : most));
}

/** What is said of a change that a mirrored person can't make, by the face or by anything. */
function tooLarge(riseK: number, limit: MirrorLimit | null): string | null {
  if (riseK > MOST_MIRRORED_K) return "it mirrors something hot, or is hardly joined to the board";
  if (limit === null || !(riseK > limit.mostK)) return null;
  return `${limit.ref}, with its finish, mirrors ${formatSignificant(limit.mostK, 2)} K of a person at most: it has another finish, mirrors a lamp, or is warm, and the board spreads its heat otherwise than told`;
}

/** Name what each leftover patch is.
 *  @param patches patches that belong to no source.
 *  @param residualZ tells for a pixel what the fit leaves ÷ its noise, smoothed; null without a board.
 *  @param offBoard 1 = certainly off the board; null without a board.
 *  @param shiny what mirrors at which pixel, by name.
 *  @param view how the frame sees the board; null without one.
 *  @param limitAt what the face at a pixel mirrors at most; null where that is not known.
 *  @param heatK what the fit's sources make at a pixel; null without a board.
 */
export function judgeArtefacts(
  pair: PreparedPair,
  patches: readonly DetectedPatch[],
  residualZ: ((pixel: number) => number) | null,
  offBoard: Uint8Array | null,
  shiny: ReadonlyMap<number, string>,
  view: PlacedView | null,
  limitAt: (px: readonly [number, number]) => MirrorLimit | null = () => null,
  heatK: ((pixel: number) => number) | null = null,
): Artefact[] {
  const { width } = pair.shape;
  const out: Artefact[] = [];
  for (const patch of patches) {
    const px: [number, number] = [patch.peak % width, Math.floor(patch.peak / width)];
    const base = { px, areaPx: patch.pixels.length, riseK: pair.smoothRise.data[patch.peak]! };
    const ref = shiny.get(patch.peak);
    const instead = tooLarge(base.riseK, limitAt(px));
    if (offBoard !== null && offBoard[patch.peak] === 1) {
      out.push({
        ...base,
        kind: "outside",
        reason: "this change lies outside the board's outline: a hand, a lead or something else in view",
      });
    } else if (looksLikeEdge(pair, patch, residualZ !== null)) {
      const share = Math.round(100 * shiftShare(pair, patch, MOST_SHIFT_PX));
      out.push({
        ...base,
        kind: "edge",
        reason: `a small shift of the picture explains ${share} % of this change: an edge that is not quite in place`,
      });
    } else if (ref !== undefined) {
      out.push({
        ...base,
        kind: "reflection",
        reason: `this change lies on ${ref} and ends at its edge; no heat spreads from it into the board, ${instead === null ? "so it mirrors the room" : `so ${instead}`}`,
      });
    } else if (residualZ !== null && !(Math.abs(residualZ(patch.peak)) < pair.threshold)) {
      // No number: the fit left it out, for no heat of the board could make it.
      const where = view === null ? "" : " for the board under it";
      out.push({
        ...base,
        kind: "reflection",
        reason: `this change does not spread as heat would${where}: ${instead ?? "something mirrored in the surface, or warm air"}`,
      });
    } else if (
      heatK !== null &&
      heatK(patch.peak) < HEAT_SHARE * base.riseK &&
      shiftShare(pair, patch, MOST_SHIFT_PX) >= EDGE_SHARE
    ) {
      // Looks like an edge, which it can't be; the fit leaves nothing of it, and no source makes it. Of all smooth
      // change there would be dozens to list.
      out.push({
        ...base,
        kind: "drift",
        reason:
          "this change is as smooth as what the room or the camera makes between two frames; heat that spread from far or from the other side looks alike",
      });
    }
  }
  const { mask } = pair.badPixels;
  // There are few, which the language itself finds sooner than a loop that runs once.
  for (let i = mask.indexOf(BAD_PIXEL.change); i >= 0; i = mask.indexOf(BAD_PIXEL.change, i + 1)) {
    out.push({
      kind: "pixel",
      px: [i % width, Math.floor(i / width)],
      areaPx: 1,
      riseK: null,
      reason:
        "a single pixel changed and none beside it, as nothing seen through a lens can: the sensor's noise or a faulty pixel",
    });
  }
  return out;
}
