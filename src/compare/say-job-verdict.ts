// compare: what became of the heat, and what was done in between → the verdict in one or two sentences.
import { uncapitalised } from "../core/sentence-case.js";
import type { ComparedPart, Comparison } from "./comparison-schema.js";
import { showsIn } from "./look-next.js";
import { sizeWords } from "./size-words.js";

/** A part that heats as healthy boards do, by so many sigma, is no fault. */
const HEALTHY_SIGMAS = 3;

type Draft = Pick<Comparison, "parts" | "hotspots" | "actions" | "before" | "after">;

/** Say what the later attempt means for the repair: heat that outlived the change of its part comes first, then heat
 *  that stayed, heat that moved, heat that is gone.
 */
export function sayJobVerdict(draft: Draft, lookAt: Comparison["lookAt"]): string {
  // What only goes along with another part is named behind that one.
  const faults = draft.parts.filter((part) => isFault(part) && part.goesWith === undefined);
  const inBoth = faults.filter((part) => showsIn(part, 0) && showsIn(part, 1));
  const of = (change: ComparedPart["change"]) => faults.filter((part) => part.change === change);
  const [gone, fresh] = [of("gone"), of("new")];
  const doubtful = of("unsure").filter((part) => !inBoth.includes(part));
  // Where a face alone is in doubt, it is told only if nothing else is.
  const byHotspot = doubtful.filter(({ hotspots }) => hotspots.some((rank) => rank !== null));
  const other = inBoth.length + gone.length + fresh.length + byHotspot.length > 0;
  const open = other ? byHotspot : doubtful;
  const done = new Map(draft.actions.map(({ what, ref }) => [ref, what]));

  const kept = inBoth.filter(({ ref }) => done.has(ref));
  if (kept.length > 0) return afterChange(kept, fresh, done, lookAt);
  const sentences: string[] = [];
  if (inBoth.length > 0) sentences.push(stayed(inBoth, [...done.keys()], gone));
  if (gone.length > 0 && fresh.length > 0) {
    sentences.push(movedOn(gone, fresh, done));
  } else if (fresh.length > 0) {
    sentences.push(`${list(fresh)} ${heat(fresh)} now and did not before.`);
  } else if (gone.length > 0) {
    sentences.push(goneNow(gone, done, inBoth, open, draft));
  }
  if (open.length > 0 && sentences.length < 2) sentences.push(unsure(open));
  return sentences.length > 0 ? sentences.slice(0, 2).join(" ") : withoutFault(draft);
}

/** Heats, and not as a healthy board does. */
function isFault({ normallyWarm, healthyZ }: ComparedPart): boolean {
  const most = Math.max(...(healthyZ ?? []).map((z) => z ?? Number.NEGATIVE_INFINITY));
  if (Number.isFinite(most)) return most > HEALTHY_SIGMAS;
  return !normallyWarm;
}

/** A part was changed, and its heat is still there: that part is not cleared, nor convicted, by heat alone. */
function afterChange(
  kept: readonly ComparedPart[],
  fresh: readonly ComparedPart[],
  done: ReadonlyMap<string, string>,
  lookAt: Comparison["lookAt"],
): string {
  const [first] = kept;
  const words = kept.length === 1 ? `was ${done.get(first!.ref)}` : "were changed";
  const seen = kept.some(({ seen: [a, b] }) => !a || !b) ? ", as far as the other side shows" : "";
  const stays = `${list(kept)} ${words} and the heat there is ${size(first!)}${seen}: heat alone does not clear ${kept.length === 1 ? "it" : "them"}`;
  const also = fresh.length === 0 ? "" : ` ${list(fresh)} ${heat(fresh)} as well now.`;
  if (lookAt.length === 0) {
    return `${stays}; look at what shares its nets, or lies behind it, which the map does not tell.${also}`;
  }
  const reasons = new Map<string, string[]>();
  for (const { ref, why } of lookAt) reasons.set(why, [...(reasons.get(why) ?? []), ref]);
  const places = [...reasons].map(([why, refs]) => `${refs.join(", ")} (${why})`);
  return `${stays}. Look at ${places.join(", ")}.${also}`;
}

function stayed(
  inBoth: readonly ComparedPart[],
  changed: readonly string[],
  gone: readonly ComparedPart[],
): string {
  const elsewhere = changed.filter((ref) => gone.every((part) => part.ref !== ref));
  const why = elsewhere.length === 0 ? "" : `: changing ${elsewhere.join(" and ")} did not remove its cause`;
  return `The heat at ${list(inBoth)} is ${size(inBoth[0]!)}${why}.`;
}

function movedOn(
  gone: readonly ComparedPart[],
  fresh: readonly ComparedPart[],
  done: ReadonlyMap<string, string>,
): string {
  const changed = gone.filter(({ ref }) => done.has(ref));
  if (changed.length === 0) return `The heat moved: it is gone at ${list(gone)} and new at ${list(fresh)}.`;
  const what = changed.length === 1 ? `was ${done.get(changed[0]!.ref)}` : "were changed";
  return `${list(changed)} ${what} and the heat at ${list(gone)} is gone, but it moved: ${list(fresh)} ${heat(fresh)} now and did not before.`;
}

function goneNow(
  gone: readonly ComparedPart[],
  done: ReadonlyMap<string, string>,
  inBoth: readonly ComparedPart[],
  open: readonly ComparedPart[],
  { parts, hotspots }: Draft,
): string {
  const changed = gone.filter(({ ref }) => done.has(ref));
  const lead =
    changed.length > 0
      ? `${list(changed)} ${changed.length === 1 ? `was ${done.get(changed[0]!.ref)}` : "were changed"} and the heat at ${list(gone)} is gone`
      : `The heat at ${list(gone)} is gone`;
  if (inBoth.length > 0 || open.length > 0) return `${lead}.`;
  if (hotspots.some(({ ref, after }) => ref === null && after !== null)) {
    return `${lead}; something else heats that none of the named parts explains well.`;
  }
  const warm = parts.filter((part) => !isFault(part) && showsIn(part, 1));
  return warm.length === 0
    ? `${lead}; nothing else heats.`
    : `${lead}; only parts that are normally warm remain (${list(warm)}).`;
}

function unsure(open: readonly ComparedPart[]): string {
  const [first] = open;
  return showsIn(first!, 0)
    ? `Whether the heat at ${list(open)} is still there is not sure: ${uncapitalised(first!.why)}`
    : `${list(open)} ${heat(open)} now; whether it did before is not sure: ${uncapitalised(first!.why)}`;
}

function withoutFault({ parts, hotspots }: Draft): string {
  const warm = parts.filter((part) => !isFault(part));
  if (hotspots.some(({ ref }) => ref === null)) {
    const beside = warm.length === 0 ? "" : ` Beside it parts heat that are normally warm (${list(warm)}).`;
    return `Something heats, but none of the named parts explains it well in both attempts.${beside}`;
  }
  if (warm.length > 0)
    return `Only parts that are normally warm heat (${list(warm)}); no fault shows in either attempt.`;
  return "Nothing heats in either attempt.";
}

function size(part: ComparedPart): string {
  if (part.change === "hotter") return `still there, and stronger${sizeWords(part)}`;
  return part.change === "cooler" ? `still there, but weaker${sizeWords(part)}` : "still there";
}

function heat(parts: readonly ComparedPart[]): string {
  return parts.length === 1 ? "heats" : "heat";
}

/** Names, each with those that its heat may be of in its place. */
function list(parts: readonly ComparedPart[]): string {
  const refs = parts.map(({ ref, orElse }) =>
    orElse.length === 0 ? ref : `${ref} (or ${orElse.join(" or ")})`,
  );
  return refs.length < 2 ? refs.join("") : `${refs.slice(0, -1).join(", ")} and ${refs[refs.length - 1]}`;
}
