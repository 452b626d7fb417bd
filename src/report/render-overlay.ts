// report: an analysis → overlay.png: the rise over the baseline with outline, regions, suspects and scales.
import type { Analysis } from "../findings/analysis.js";
import type { ViewName } from "../findings/findings-schema.js";
import { drawMarks, type PictureLayout } from "./draw-marks.js";
import { paintRise } from "./paint-rise.js";
import { pictureMarks } from "./picture-marks.js";
import { seenFrom } from "./seen-from.js";

/** Room beside the frame for labels, above and below it, px: the longest usual one, "warm anyway · 0.185 mW", takes
 *  222. The sum with the frame gives some 1240 px of width. */
const GUTTER_PX = 222;
const TOP_PX = 20;
const BOTTOM_PX = 112;
/** The frame is drawn as large as fits into this. */
const MOST_PICTURE_PX = Object.freeze({ width: 800, height: 900 });
/** The scales under a narrow frame reach beyond it. */
const LEAST_SCALES_WIDTH_PX = 440;

/** Draw the picture of an analysis.
 *  The frame keeps its proportions and always stands at the same place for the same frame size, whatever was found, so
 *  that pictures of several attempts can be laid side by side.
 *  @param name which of two views; the primary one is always there.
 *  @returns PNG bytes; the same analysis gives the same bytes.
 */
export async function renderOverlay(whole: Analysis, name: ViewName = "primary"): Promise<Uint8Array> {
  const analysis = seenFrom(whole, name);
  const layout = pictureLayout(analysis.baseline.width, analysis.baseline.height);
  const painted = paintRise(analysis, layout.pictureWidth, layout.pictureHeight);
  const svg = drawMarks(pictureMarks(analysis, name), painted, layout, analysis);
  const { default: sharp } = await import("sharp");
  const frame = { width: painted.width, height: painted.height, channels: 3 as const };
  return sharp({
    create: { width: layout.width, height: layout.height, channels: 3, background: "#ffffff" },
  })
    .composite([
      { input: Buffer.from(painted.rgb.buffer), raw: frame, left: layout.left, top: layout.top },
      { input: Buffer.from(svg), left: 0, top: 0 },
    ])
    .png({ compressionLevel: 9 })
    .toBuffer();
}

/** Lay the canvas out for a frame's size. */
export function pictureLayout(frameWidth: number, frameHeight: number): PictureLayout {
  const scale = Math.min(MOST_PICTURE_PX.width / frameWidth, MOST_PICTURE_PX.height / frameHeight);
  const pictureWidth = Math.max(1, Math.round(frameWidth * scale));
  const pictureHeight = Math.max(1, Math.round(frameHeight * scale));
  const scalesWidth = Math.max(pictureWidth, LEAST_SCALES_WIDTH_PX);
  return {
    width: scalesWidth + 2 * GUTTER_PX,
    height: TOP_PX + pictureHeight + BOTTOM_PX,
    left: GUTTER_PX,
    top: TOP_PX,
    pictureWidth,
    pictureHeight,
    scale,
    scalesWidth,
  };
}
