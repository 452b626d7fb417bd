// report: an analysis and one of its views → the same analysis as that view alone shows it, for its picture.
import { boardPoint } from "../core/units.js";
import type { Analysis } from "../findings/analysis.js";
import type { Hotspot, ViewName } from "../findings/findings-schema.js";
import { viewOf } from "../findings/view-names.js";

/** Take the pictures, noise and threshold of one view, and lay every hotspot into its pixels: where the view shows the
 *  peak itself, else where the source lies on the board. Hotspots beyond the picture are left out, and so are the
 *  artefacts' places in the other view: they stay listed, and `pictureMarks` passes over them.
 *  @returns the analysis itself where it has one view only.
 *  @throws Error for a view that was not given (a fault of ours).
 */
export function seenFrom(analysis: Analysis, name: ViewName): Analysis {
  const { findings, other = null } = analysis;
  const { otherSide = null } = findings;
  if (other === null || otherSide === null) {
    if (name === "primary") return analysis;
    throw new Error("the analysis has no other view to be seen from");
  }
  const pictures = name === "primary" ? analysis : other;
  const { width, height } = pictures.baseline;
  const measured = name === "primary" ? findings : otherSide;
  const hotspots = findings.hotspots
    .map((hotspot) => hotspotIn(hotspot, name, pictures))
    .filter(({ sourcePx: [x, y] }) => x >= 0 && y >= 0 && x <= width - 1 && y <= height - 1);
  return {
    ...analysis,
    ...pictures,
    findings: {
      ...findings,
      alignment: measured.alignment,
      noise: measured.noise,
      threshold: { ...findings.threshold, riseK: measured.threshold.riseK },
      hotspots,
    },
  };
}

function hotspotIn(hotspot: Hotspot, name: ViewName, { view }: Pick<Analysis, "view">): Hotspot {
  if (viewOf(hotspot) === name) return hotspot;
  if (hotspot.otherView) return { ...hotspot, ...hotspot.otherView };
  const { sourceMm } = hotspot;
  if (sourceMm === null || view === null) return hotspot;
  const [x, y] = view.toFrame(boardPoint(sourceMm[0], sourceMm[1]));
  return { ...hotspot, sourcePx: [x, y], peakPx: [Math.round(x), Math.round(y)] };
}
