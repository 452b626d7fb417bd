// page: what a job knows of places → the rows of the table of readings, each with what was read there last.
import type { JobState } from "../../api/jobs-schema.js";
import type { Measure } from "../../readings/reading-schema.js";
import { keyOf, type TypedPlace } from "./read-place.js";

type Judged = NonNullable<JobState["evidence"]>["readings"][number];

/** A row of the table. */
export interface ReadingRow {
  readonly key: string;
  readonly place: TypedPlace;
  /** What was last read there, and what it means; null where nothing was. */
  readonly judged: Judged | null;
  /** What a good board shows; null where it is not known. */
  readonly reference: JobState["references"][number] | null;
}

/** List places in the order in which they became known: references, readings, then those that were typed and wait.
 *  @param waiting places without a reading yet.
 */
export function listRows(state: JobState, measure: Measure, waiting: readonly TypedPlace[]): ReadingRow[] {
  const rows = new Map<string, ReadingRow>();
  const add = (place: TypedPlace): ReadingRow => {
    const key = keyOf(place);
    const row = rows.get(key) ?? { key, place, judged: null, reference: null };
    rows.set(key, row);
    return row;
  };
  for (const reference of state.references) {
    if (reference.measure !== measure) continue;
    const row = add(placeOnly(reference));
    rows.set(row.key, { ...row, reference });
  }
  for (const judged of state.evidence?.readings ?? []) {
    if (judged.measure !== measure) continue;
    const row = add(placeOnly(judged));
    if (row.judged === null || judged.state >= row.judged.state) rows.set(row.key, { ...row, judged });
  }
  for (const place of waiting) add(place);
  return [...rows.values()];
}

function placeOnly(place: {
  readonly net?: string | null | undefined;
  readonly ref?: string | null | undefined;
  readonly pin?: string | null | undefined;
}): TypedPlace {
  return {
    ...(place.net == null ? {} : { net: place.net }),
    ...(place.ref == null ? {} : { ref: place.ref }),
    ...(place.pin == null ? {} : { pin: place.pin }),
  };
}
