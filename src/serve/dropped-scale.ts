// serve: a picture that was dropped, and the other files of the inbox → the scale that goes with it.
import { readFile } from "node:fs/promises";
import { sidecarNames } from "../frames/choose-scale.js";
import { readScaleObject } from "../frames/scale-schema.js";
import { type About, droppedPath } from "./dropped-about.js";
import type { DroppedFile } from "./works.js";

/** Find the scale of a picture: the one that was said, else one that was dropped under its name.
 *  @throws ToolError E_SCALE_VALUE if that file holds no scale that can be used. */
export async function scaleOf(
  folder: string,
  { scale, names }: About,
  abouts: ReadonlyMap<string, About>,
): Promise<DroppedFile["beside"]> {
  if (scale !== null) return { from: "what was said on the page", scale };
  for (const wanted of names.flatMap(sidecarNames)) {
    for (const about of abouts.values()) {
      if (about.read?.sort !== "scale" || !about.names.includes(wanted)) continue;
      const text = await readFile(droppedPath(folder, about), "utf8");
      return { from: wanted, scale: readScaleObject(JSON.parse(text), { file: wanted }) };
    }
  }
  return null;
}
