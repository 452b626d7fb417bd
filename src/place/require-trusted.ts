// place: a view found for a new baseline → the view, or an error that says why it is not relied on and what to do.
import type { View } from "../board/board-schema.js";
import { ToolError } from "../core/errors.js";
import { capitalised } from "../core/sentence-case.js";
import type { PlaceDoubt } from "./place-doubt.js";
import type { NewView } from "./place-new-view.js";

/** Take the view if it can be relied on.
 *  @param file the new baseline, for the error.
 *  @throws ToolError E_PLACE_DOUBT that says why, and asks for fiducials.
 */
export function requireTrusted(found: NewView, file?: string): View {
  if (found.doubt === null && found.view !== null) return found.view;
  throw new ToolError("E_PLACE_DOUBT", {
    problem: `the new baseline could not be placed with confidence: ${reason(found)}`,
    fix: fixFor(found.doubt),
    place: { file },
  });
}

function reason({ doubt, sigmaPx, seenShare }: NewView): string {
  switch (doubt) {
    case "unseen":
      return `it shows only ${Math.round(100 * seenShare)} % of the board's edges`;
    case "unsettled":
      return "its edges lie nowhere as they lie in the earlier one";
    case "loose":
      return `its edges leave the place open by ${sigmaPx.toPrecision(2)} px`;
    case "outline":
      return "the board's outline does not fit";
    case "inside":
      return "an outline fits, but what lies on the board agrees no better there than elsewhere";
    case "half":
      return "what lies on the board fits better turned half round";
    case "quarter":
      return "what lies on the board fits better turned by a quarter";
    case "over":
      return "what lies on the board fits better mirrored, as if the other side or a mirrored picture were shown";
    default:
      return "no edge of the board was found in it";
  }
}

function fixFor(doubt: PlaceDoubt | null): string {
  const click =
    "write a view for this baseline with two or more fiducials, points that you find both on the board and in the frame";
  if (doubt === "over") return `Check that both frames show the same side; if they do, ${click}`;
  if (doubt === "unseen") return `Bring the board back into the frame and capture again, or ${click}`;
  return capitalised(click);
}
