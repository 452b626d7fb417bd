// serve: a file that was dropped → its first frame in °C, or a picture that every browser shows.
import sharp from "sharp";
import { encodePictures } from "../api/pictures.js";
import { readFrameSources } from "../read/read-frames.js";
import { beginsAsPhoto, photoError } from "./photo-file.js";
import type { DoWork } from "./works.js";

/** Largest side of a photo that is drawn over: more than a 4K screen shows. */
const PHOTO_PX = 4096;
/** Photos of good cameras have 50 to 200 megapixels; beyond lies what is meant to fill the memory. */
const MOST_PIXELS = 300_000_000;

/** Read the first frame of a file. @throws ToolError those of `readFrames`. */
export const droppedFrame: DoWork<"droppedFrame"> = async (file) => {
  const { frames } = await readFrameSources([file]);
  const { width, height, data } = frames[0]!.raster;
  return encodePictures({ width, height, layers: [{ name: "frame", unit: "degC", data }] });
};

/** Turn a picture upright, make it no larger than a screen, and give it as JPEG.
 *  @throws ToolError E_FRAME_TYPE if it is no picture that can be opened here. */
export const droppedPhoto: DoWork<"droppedPhoto"> = async ({ path }) => {
  try {
    if (!(await beginsAsPhoto(path))) throw new Error("its first bytes are none of a photo's");
    return await sharp(path, { limitInputPixels: MOST_PIXELS })
      .rotate()
      .resize({ width: PHOTO_PX, height: PHOTO_PX, fit: "inside", withoutEnlargement: true })
      .flatten({ background: "#ffffff" })
      .jpeg({ quality: 88 })
      .toBuffer();
  } catch (error) {
    throw await photoError(path, error);
  }
};
