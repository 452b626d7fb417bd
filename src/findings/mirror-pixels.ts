// findings: a view of a board and what was found to mirror → which part, if any, mirrors at which pixel.
import type { PlacedView } from "../board/place-view.js";
import type { SourceFit } from "../sources/source-fit.js";
import { namePixels } from "./name-pixels.js";

/** Which part, shiny by the map or found to mirror, lies at which pixel of a view: what mirrors is on its side, and a
 *  place that no region names in the picture that showed it.
 */
export function mirrorPixels(
  view: PlacedView,
  v: number,
  { mirrors }: SourceFit,
  shiny: ReadonlyMap<number, string>,
  size: { readonly width: number; readonly height: number },
): Map<number, string> {
  const out = new Map(shiny);
  for (const { polygon, ref, side, face } of mirrors) {
    if (side !== view.side || (face !== null && face.picture !== v)) continue;
    namePixels(out, view, polygon, size, ref ?? "a face that is not on the map");
  }
  return out;
}
