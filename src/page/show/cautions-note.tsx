// page: the cautions → a note where power comes into play.
import { AID_STATEMENT, CAUTIONS } from "../../report/cautions.js";

/** What to mind before power goes into the board; short, and all of it on request. */
export function CautionsNote() {
  return (
    <details class="cautions">
      <summary>
        <span aria-hidden="true">⚠</span> Before power: {CAUTIONS[0]}
      </summary>
      <ul>
        {CAUTIONS.slice(1).map((text) => (
          <li key={text}>{text}</li>
        ))}
        <li>{AID_STATEMENT}</li>
      </ul>
    </details>
  );
}
