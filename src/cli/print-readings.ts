// cli: the judged readings of a job → lines of a table: where, what was measured, what it means and by which tolerance.
import type { Evidence } from "../evidence/evidence-schema.js";
import { CLASS_WORDS } from "../report/job-words.js";
import { visibleText } from "../report/visible-text.js";
import type { Styles } from "./command-output.js";
import { textTable } from "./text-table.js";

/** Print what each reading means; places that were read again after a change of the board have a line for each
 *  state. */
export function printReadings({ readings }: Evidence, styles: Styles): string[] {
  if (readings.length === 0) return [];
  const [head, ...rows] = textTable(
    [{ title: "Read at" }, { title: "Measured" }, { title: "Means" }, { title: "Why" }],
    readings.map(({ board, net, ref, pin, measure, state, class: mark, why }) => {
      const part = ref === null ? null : pin === null ? ref : `${ref} pin ${pin}`;
      const place = [net, part, board].filter((word) => word !== null).join(", ");
      const when = state === 0 ? measure : `${measure}, after change ${state}`;
      return [visibleText(place), when, CLASS_WORDS[mark], visibleText(why)];
    }),
  );
  return ["", styles.dim(head ?? ""), ...rows];
}
