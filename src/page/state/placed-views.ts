// page: how baseline frames see the board → kept until an attempt is made of them.
import { type Signal, signal } from "@preact/signals";
import { callApi } from "../../api/call-api.js";
import type { View } from "../../board/board-schema.js";

/** How a baseline in the inbox sees the board, and who said so. */
export interface PlacedBaseline {
  readonly view: View;
  /** Name of the board; null: the job's only one. */
  readonly board: string | null;
  readonly by: "fiducials" | "attempt" | "file";
  /** Standard error over the board, mm; null where it is not known. */
  readonly sigmaMm: number | null;
}

/** Placings by job and the baseline's SHA-256; null: asked for, and there is none. */
const placedViews: Signal<Readonly<Record<string, PlacedBaseline | null>>> = signal({});
const keyOf = (job: string, baseline: string): string => `${job}/${baseline}`;

/** How a baseline sees the board, as far as it is known here; null where it is not. */
export function placedView(job: string, baseline: string): PlacedBaseline | null {
  return placedViews.value[keyOf(job, baseline)] ?? null;
}

/** Keep how a baseline sees the board; `null` forgets it. */
export async function keepPlacedView(
  job: string,
  baseline: string,
  placed: PlacedBaseline | null,
): Promise<void> {
  placedViews.value = { ...placedViews.value, [keyOf(job, baseline)]: placed };
  await callApi("saveDraft", { job, name: draftName(baseline), body: { draft: placed } });
}

/** Fetch how a baseline sees the board, unless it is known already. */
export async function loadPlacedView(job: string, baseline: string): Promise<PlacedBaseline | null> {
  const key = keyOf(job, baseline);
  const known = placedViews.value[key];
  if (known !== undefined) return known;
  const { draft } = await callApi("draft", { job, name: draftName(baseline) });
  // It may have been placed while that was asked.
  const since = placedViews.value[key];
  if (since !== undefined) return since;
  const placed = (draft ?? null) as PlacedBaseline | null;
  placedViews.value = { ...placedViews.value, [key]: placed };
  return placed;
}

function draftName(baseline: string): string {
  return `view-${baseline.slice(0, 32)}`;
}
