// page: the fiducials of a picture → a table with both ends by number and how far each is off.
import type { Point } from "../../board/polygon.js";
import { showNumber } from "../state/settings.js";
import type { DrawSession } from "./draw-session.js";
import { removeFiducial, shownPlacement, typeEnd } from "./fiducial-actions.js";
import { focusAfter } from "./focus-after.js";
import type { DrawnFiducial } from "./model/drawing.js";
import { NumberField } from "./number-field.js";
import { START_COUNT } from "./start-points.js";

/** List the fiducials of the picture that is shown. */
export function FiducialTable({ session }: { readonly session: DrawSession }) {
  const { placing, fiducial, startWay } = session;
  const fiducials = shownPlacement(session)?.fiducials ?? [];
  const solved = placing.value;
  // Corners and lengths count their own points, which become fiducials only once they are all there.
  const isSilent = fiducials.length === 0 && START_COUNT[startWay.value] > 0;
  const isWrong = (index: number): boolean => solved?.isWrong === true && solved.worst === index;
  return (
    <>
      <p class={`draw-placing${solved?.isWrong === true ? " wrong" : ""}`} role="status">
        {solved?.isWrong === true ? "⚠ " : ""}
        {isSilent ? "" : showNumber(solved?.text ?? "")}
      </p>
      {fiducials.length > 0 && (
        <div class="draw-scroll">
          <table class="draw-table" aria-label="Fiducials">
            <thead>
              <tr>
                <th scope="col">No.</th>
                <th scope="col">Picture, px</th>
                <th scope="col">Board, mm</th>
                <th scope="col">Off by</th>
                <th scope="col">
                  <span class="draw-unseen">Buttons</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {fiducials.map((both, index) => (
                <tr
                  key={index}
                  class={`${fiducial.value === index ? "chosen" : ""}${isWrong(index) ? " wrong" : ""}`}
                >
                  <th scope="row">{isWrong(index) ? `⚠ ${index + 1}` : index + 1}</th>
                  <td>
                    <EndFields session={session} index={index} end="pixel" point={both.pixel} />
                  </td>
                  <td>
                    <EndFields session={session} index={index} end="board" point={both.board} />
                  </td>
                  <td class="draw-off">
                    {missText(
                      solved?.missesPx[index] ?? null,
                      solved?.isChecked === true,
                      solved?.worst === index,
                    )}
                  </td>
                  <td>
                    <button
                      type="button"
                      aria-pressed={fiducial.value === index}
                      aria-label={`Pick fiducial ${index + 1} again`}
                      onClick={() => {
                        fiducial.value = fiducial.value === index ? null : index;
                      }}
                    >
                      Pick
                    </button>
                    <button
                      type="button"
                      aria-label={`Remove fiducial ${index + 1}`}
                      onClick={(event) => {
                        focusAfter(event.currentTarget, "picture");
                        removeFiducial(session, index);
                      }}
                    >
                      ×
                    </button>
                  </td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
    </>
  );
}

function EndFields(props: {
  readonly session: DrawSession;
  readonly index: number;
  readonly end: keyof DrawnFiducial;
  readonly point: Point | null;
}) {
  const { session, index, end, point } = props;
  if (point === null) return <em>to be picked</em>;
  const [x, y] = point;
  const name = `Fiducial ${index + 1}, ${end === "board" ? "board" : "picture"}`;
  const step = end === "board" ? session.gridMm.value : 0.1;
  return (
    <span class="draw-pair">
      <NumberField
        isBare
        label={`${name} x`}
        value={x}
        step={step}
        onSet={(value) => typeEnd(session, index, end, [value, y])}
      />
      <NumberField
        isBare
        label={`${name} y`}
        value={y}
        step={step}
        onSet={(value) => typeEnd(session, index, end, [x, value])}
      />
    </span>
  );
}

function missText(missPx: number | null, isChecked: boolean, isWorst: boolean): string {
  if (missPx === null) return "";
  // Four and fewer are always fitted exactly: a nought would pass for a proof.
  if (!isChecked && missPx < 0.005) return "fitted";
  return `${showNumber(missPx.toFixed(2))}\u00a0px${isWorst ? ", worst" : ""}`;
}
