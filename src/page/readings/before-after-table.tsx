// page: judged readings → what each place showed before the last change of the board, and shows after it.
import type { JobState } from "../../api/jobs-schema.js";
import { beforeAfter } from "../../readings/before-after.js";
import { READING_CHANGE_WORDS, readingText } from "../../report/job-words.js";
import { showNumber } from "../state/settings.js";
import { ClassMark } from "./class-mark.js";

/** Places that were read before and after a change of the board. */
export function BeforeAfterTable({ state }: { readonly state: JobState }) {
  const rows = beforeAfter(state.evidence?.readings ?? []).filter(({ before }) => before !== null);
  if (rows.length === 0) return null;
  return (
    <section aria-labelledby="before-after-title">
      <h2 id="before-after-title">Before and after the last change</h2>
      <div class="table-box">
        <table class="data">
          <thead>
            <tr>
              <th scope="col">Place</th>
              <th scope="col">Before</th>
              <th scope="col">Mark</th>
              <th scope="col">After</th>
              <th scope="col">Mark</th>
              <th scope="col">Change</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ net, ref, pin, measure, before, after, change }) => (
              <tr key={`${net} ${ref} ${pin} ${measure}`}>
                <th scope="row">
                  {[net, ref, pin === null ? null : `pin ${pin}`].filter((word) => word !== null).join(" ")}
                </th>
                <td class="number">
                  {before !== null && showNumber(readingText(measure, before.value, before.overRange))}
                </td>
                <td>{before !== null && <ClassMark of={before.class} />}</td>
                <td class="number">{showNumber(readingText(measure, after.value, after.overRange))}</td>
                <td>
                  <ClassMark of={after.class} />
                </td>
                <td>{change === null ? "–" : READING_CHANGE_WORDS[change]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </section>
  );
}
