// page: frames of an attempt → what to do where they are not of one size.
import type { InboxFile } from "../../api/inbox-schema.js";

/** Files that are named; of more the number is told. */
const MOST_NAMED = 3;

/** Say which frames are of another size than most, and what to do. @returns null where all are of one size */
export function sizeTrouble(files: readonly Pick<InboxFile, "frame" | "names">[]): string | null {
  const bySize = new Map<string, string[]>();
  for (const { frame, names } of files) {
    if (frame === null) continue;
    const size = `${frame.width}×${frame.height}`;
    bySize.set(size, [...(bySize.get(size) ?? []), names[0] ?? "frame"]);
  }
  // Where two sizes have as many, the one that came first is the one to go by.
  const [most, ...odd] = [...bySize].sort(([, a], [, b]) => b.length - a.length);
  if (most === undefined || odd.length === 0) return null;
  const told = odd.map(
    ([size, names]) => `${listed(names)} ${names.length === 1 ? "is" : "are"} ${size} pixels`,
  );
  const others = most[1].length === 1 ? `${most[1][0]} is` : "the other frames are";
  const mayBeView = odd.some(([, names]) => names.length > 1);
  const view = mayBeView ? ", or mark those of another view as of the other view" : "";
  return `${told.join(", ")}; ${others} ${most[0]}. Baseline and powered frames have to be of one size: export all at one resolution, drop them here and remove those that don't fit${view}.`;
}

function listed(names: readonly string[]): string {
  return names.length <= MOST_NAMED ? names.join(", ") : `${names[0]} and ${names.length - 1} more`;
}
